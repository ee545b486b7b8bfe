# Ends of Efron's corrected (BCa) interval for 999 stated draws, worked out step by step (Efron 1987): the figures of bootstrap.test.ts.
draws <- qchisq((1:999) / 1000, df = 5)
bca <- function(estimate, a, confidence) {
  z0 <- qnorm(mean(draws < estimate))
  z <- qnorm(c((1 - confidence) / 2, (1 + confidence) / 2))
  share <- pnorm(z0 + (z0 + z) / (1 - a * (z0 + z)))
  place <- (length(draws) + 1) * share
  lower <- floor(place)
  draws[lower] + (place - lower) * (draws[lower + 1] - draws[lower])
}
cat(format(bca(5, 0.05, 0.95), digits = 15), format(bca(4.2, -0.02, 0.9), digits = 15), "\n")
cat(format(qchisq(c(0.025, 0.975), 5), digits = 15), "\n")
