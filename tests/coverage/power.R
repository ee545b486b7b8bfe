# The figures of power.ts beside it, by base R 4.2. Run: Rscript power.R
# Tukey, 4 levels of 4 runs, one pair 3 standard deviations apart.
k <- 4; n <- 4; df <- k * (n - 1)
cut <- qtukey(0.95, k, df) / sqrt(2)
ncp <- 3 / sqrt(2 / n)
cat(sprintf("Tukey, one pair: %.10f\n", 1 - pt(cut, df, ncp) + pt(-cut, df, ncp)))
# Lenth 1989, 7 effects, one of 4 standard errors, against the limit 2.297 of Wu and Hamada, Experiments, appendix H (from memory).
set.seed(1989)
N <- 1e6
effects <- matrix(rnorm(7 * N), N)
effects[, 1] <- effects[, 1] + 4
sizes <- abs(effects)
sorted <- t(apply(sizes, 1, sort))
initial <- 1.5 * sorted[, 4]
kept <- rowSums(sorted < 2.5 * initial)
middle <- (sorted[cbind(1:N, floor((kept + 1) / 2))] + sorted[cbind(1:N, ceiling((kept + 1) / 2))]) / 2
cat(sprintf("Lenth, one effect: %.5f\n", mean(sizes[, 1] > 2.297 * 1.5 * middle)))
