# The same work in R, timed in the same run: Rscript reference.R analysis.csv responses.csv design.csv
# Prints one line a task: name, seconds (median of the repeats).
files <- commandArgs(trailingOnly = TRUE)

median_seconds <- function(repeats, task) {
  seconds <- numeric(repeats)
  for (i in seq_len(repeats)) {
    start <- proc.time()[["elapsed"]]
    task()
    seconds[i] <- proc.time()[["elapsed"]] - start
  }
  median(seconds)
}

# Full analysis of 480 rows and 16 coefficients: fit, summary, analysis of variance, intervals, studentised residuals.
data <- read.csv(files[1])
analysis <- median_seconds(7, function() for (k in 1:20) {
  fit <- lm(y ~ ., data = data)
  summary(fit)
  anova(fit)
  confint(fit)
  rstudent(fit)
}) / 20
cat("analysis", analysis, "\n")

# 10,000 refits of 32 rows and 11 coefficients, each a bare lm.fit with another response.
design <- as.matrix(read.csv(files[3]))
responses <- as.matrix(read.csv(files[2]))
refits <- median_seconds(3, function() for (k in 1:10000) {
  lm.fit(design, responses[, (k - 1) %% ncol(responses) + 1])$coefficients
})
cat("refits", refits, "\n")
