# The algebra of judging in R, timed in the same run: Rscript judging.R design.csv
# 128 runs, main effects and products of two of its 10 two-level columns with 4 squares' worth of extra products: 60 terms.
runs <- read.csv(commandArgs(trailingOnly = TRUE)[1])
names <- colnames(runs)
form <- as.formula(paste("~ (", paste(names, collapse = " + "), ")^2"))
once <- function() {
  x <- model.matrix(form, runs)
  decomposed <- qr(x)
  r <- qr.R(decomposed)
  covariance <- solve(t(r) %*% r)
  se <- sqrt(diag(covariance))
  df <- nrow(x) - ncol(x)
  half <- 2 * se * qt(0.975, df)
  power <- pt(qt(0.975, df), df, 1 / se, lower.tail = FALSE)
  inflation <- diag(solve(cor(x[, -1])))
  correlations <- cor(x[, -1], cbind(x[, -1], seq_len(nrow(x))))
  leverage <- rowSums(qr.Q(decomposed)^2)
  list(half, power, inflation, correlations, leverage, determinant(crossprod(x)))
}
for (k in 1:3) once()
times <- replicate(15, { start <- proc.time()[["elapsed"]]; for (k in 1:5) once(); (proc.time()[["elapsed"]] - start) / 5 })
cat("judging", median(times), "\n")
