# Rscript mixed-logit-simulated.R rows.csv [theta,variety theta,grower beta…]
# The maximum of lme4's own Laplace deviance, polished: glmer stops up to 2e-5 before it. From glmer's fit (or from the
# parameters given), Newton steps with derivatives of the deviance function by central differences.
suppressMessages(library(lme4))
arguments <- commandArgs(TRUE)
d <- read.csv(arguments[1])
for (name in c("method", "variety", "grower")) d[[name]] <- factor(d[[name]])
formula <- cbind(k, n - k) ~ method + age + (1 | variety) + (1 | grower)
tight <- glmerControl(tolPwrss = 1e-13)
if (length(arguments) > 1) {
  at <- as.numeric(strsplit(arguments[2], ",")[[1]])
} else {
  fit <- glmer(formula, data = d, family = binomial)
  at <- c(getME(fit, "theta"), fixef(fit))
}
parsed <- glFormula(formula, data = d, family = binomial)
deviance <- do.call(mkGlmerDevfun, c(parsed, list(control = tight)))
deviance <- updateGlmerDevfun(deviance, parsed$reTrms)
size <- length(at)
scale <- rep(1e-2, size)
for (round in 1:3) {
  middle <- deviance(at)
  # First how far each parameter moves the deviance by 1, then differences over a hundredth of that.
  for (i in 1:size) {
    e <- replace(numeric(size), i, scale[i])
    bend <- (deviance(at + e) + deviance(at - e) - 2 * middle) / scale[i]^2
    scale[i] <- 0.05 / sqrt(bend / 2)
  }
  gradient <- numeric(size)
  hessian <- matrix(0, size, size)
  for (i in 1:size) {
    e <- replace(numeric(size), i, scale[i])
    up <- deviance(at + e); down <- deviance(at - e)
    gradient[i] <- (up - down) / (2 * scale[i])
    hessian[i, i] <- (up + down - 2 * middle) / scale[i]^2
    for (j in seq_len(i - 1)) {
      f <- replace(numeric(size), j, scale[j])
      hessian[i, j] <- hessian[j, i] <-
        (deviance(at + e + f) - deviance(at + e - f) - deviance(at - e + f) + deviance(at - e - f)) /
        (4 * scale[i] * scale[j])
    }
  }
  step <- -solve(hessian, gradient)
  at <- at + step
  cat("round", round, "largest step", max(abs(step)), "\n")
  cat(sprintf("%.10f", at), "\n")
  flush(stdout())
  if (max(abs(step)) < 2e-8) break
}
cat("standard errors", sprintf("%.8f", sqrt(diag(2 * solve(hessian)))), "\n")
cat("log-likelihood", sprintf("%.8f", -deviance(at) / 2), "\n")
