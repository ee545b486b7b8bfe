# The algebra of a search for a D-optimal layout in R, timed in the same run: Rscript reference-layouts.R
# 5 factors, 30 runs, full quadratic (21 terms), 11 candidates a coordinate. Prints one line a task: name, seconds.
# Candidates are judged all at once by the ratio of determinants; solve() is called once a change, which is as little as plain R can do.
set.seed(20261125)
grid <- seq(-1, 1, length.out = 11)
terms <- ~ (x1 + x2 + x3 + x4 + x5)^2 + I(x1^2) + I(x2^2) + I(x3^2) + I(x4^2) + I(x5^2)
rows <- function(points) model.matrix(terms, as.data.frame(points))

exchange <- function() {
  points <- matrix(sample(grid, 150, replace = TRUE), 30, 5, dimnames = list(NULL, paste0("x", 1:5)))
  x <- rows(points)
  inverse <- solve(crossprod(x))
  repeat {
    changed <- FALSE
    for (run in 1:30) for (factor in 1:5) {
      tried <- points[rep(run, 11), ]
      tried[, factor] <- grid
      f <- rows(tried)
      own <- x[run, ]
      solved <- f %*% inverse
      fresh <- rowSums(solved * f)
      mixed <- drop(solved %*% own)
      before <- drop(own %*% inverse %*% own)
      ratio <- (1 + fresh) * (1 - before) + mixed^2
      best <- which.max(ratio)
      if (ratio[best] > 1 + 1e-9) {
        points[run, factor] <- grid[best]
        x[run, ] <- f[best, ]
        inverse <- solve(crossprod(x))
        changed <- TRUE
      }
    }
    if (!changed) return(2 * sum(log(abs(diag(qr.R(qr(x)))))))
  }
}

starts <- 3
began <- proc.time()[["elapsed"]]
worths <- vapply(seq_len(starts), function(k) exchange(), 0)
cat("exchange", (proc.time()[["elapsed"]] - began) / starts, "\n")
cat("logdeterminant", max(worths), "\n")
