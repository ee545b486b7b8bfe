# The bootstrap of residuals as plainly as R can do it, timed in the same run: Rscript resample.R table.csv
# 10,000 draws: residuals brought to one variance, drawn anew, refitted by lm.fit, percentiles of each coefficient. Prints its name and seconds.
data <- read.csv(commandArgs(trailingOnly = TRUE)[1])
once <- function() {
  fit <- lm(y ~ ., data)
  x <- model.matrix(fit)
  middle <- fitted(fit)
  rest <- residuals(fit) / sqrt(1 - hatvalues(fit))
  rest <- rest - mean(rest)
  drawn <- vapply(1:10000, function(k) lm.fit(x, middle + sample(rest, replace = TRUE))$coefficients, numeric(ncol(x)))
  apply(drawn, 1, quantile, probs = c(0.025, 0.975))
}
seconds <- replicate(3, { start <- proc.time()[["elapsed"]]; once(); proc.time()[["elapsed"]] - start })
cat("bootstrap", median(seconds), "\n")
