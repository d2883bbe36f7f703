# The spreads of hand-made plantings by lme4's REML; R 4.2.2, lme4 1.1-31: Rscript test/planning/own-spreads.R
# The same grams stand in own-spreads.test.ts. Logs of kg/m2 on 4 m2: the area is in the intercept alone.
suppressMessages(library(lme4))
grams <- function(m, g, s, k) {
  6000 + 1000 * k + 900 * g + 400 * m + 700 * ((5 * g + 3 * s) %% 4) + 1300 * ((2 * m + 2 * s * s) %% 3) +
    500 * ((7 * k + 2 * g) %% 5) + 300 * ((3 * k + 5 * s + 11 * g) %% 7)
}
sds <- function(fit) { v <- as.data.frame(VarCorr(fit)); cat(sprintf("%s %.8f\n", v$grp, v$sdcor), sep = "") }
control <- lmerControl(optCtrl = list(maxfun = 1e5, xtol_abs = 1e-12, ftol_abs = 1e-14))

several <- expand.grid(k = 0:3, s = 0:3, g = 0:5)
several$m <- several$g %% 2
several$y <- log(with(several, grams(m, g, s, k)))
cat("two methods on three gardens each\n")
sds(lmer(y ~ factor(k) + factor(s) + factor(m) + (1 | g) + (1 | g:s) + (1 | m:s) + (1 | k:g), several, control = control))

one <- expand.grid(k = 0:3, s = 0:3, g = 0:2)
one$y <- log(with(one, grams(g, g, s, k)))
cat("three methods on one garden each: the garden is the method\n")
sds(lmer(y ~ factor(k) + factor(s) + factor(g) + (1 | g:s) + (1 | k:g), one, control = control))
