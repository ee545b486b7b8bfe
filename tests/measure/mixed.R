# REML of the same split plot by lme4: Rscript mixed.R split.csv. Prints seconds of the clock and of the processor a fit.
if (!requireNamespace("lme4", quietly = TRUE)) quit(status = 1)
data <- read.csv(commandArgs(trailingOnly = TRUE)[1], stringsAsFactors = TRUE)
data$plot <- factor(data$plot)
one <- function() lme4::lmer(y ~ edge + feed + speed + (1 | plot), data = data)
for (k in 1:5) one()
start <- proc.time()
for (k in 1:30) one()
used <- proc.time() - start
cat(used[["elapsed"]] / 30, (used[["user.self"]] + used[["sys.self"]]) / 30, "\n")
