# The same made-up trials as test/simulation/made-up.ts, drawn and analysed in R alone (R 4.2.2, stats): how often a 95 %
# interval holds the truth it names, how wide it is. Rscript test/simulation/layouts.R > test/simulation/layouts-by-r.json
set.seed(41); trials <- 2000; crops <- 4; base <- 2 + (0:3) %% 3
normal <- function(n, sd) rnorm(n, 0, sd)
trial <- function(layout, how, units, seasons, stray) {
  shared <- layout %in% c("split gardens", "blocks of beds")
  n <- if (shared) units else switch(layout, "one garden a method" = 2, gardens = 2 * units, "swapped gardens" = units)
  ground <- matrix(normal(3 * n, 0.2), n)
  turn <- array(normal(3 * n * seasons, 0.12), c(n, seasons, 3))
  strays <- array(normal(6 * seasons, stray), c(2, seasons, 3))
  rank <- if (how == "choice") ground[, 1] + normal(n, 0.2) else runif(n)
  side <- if (shared) rep(1:2, n) else 1 + (rank(rank) > floor(n / 2))
  at <- if (shared) rep(seq_len(n), each = 2) else seq_len(n)
  places <- length(at)
  liking <- matrix(normal(places * crops, 0.25), places); lasting <- matrix(normal(3 * places, 0.1), places)
  y <- array(0, c(places, seasons, 3)); method <- matrix(0, places, seasons)
  for (s in seq_len(seasons)) {
    method[, s] <- if (layout == "swapped gardens" && s %% 2 == 0) 3 - side else side
    for (m in 1:3) y[, s, m] <- ground[at, m] + turn[at, s, m] + strays[cbind(method[, s], s, m)]
    grown <- exp(liking + matrix(normal(places * crops, 0.25), places)) %*% base
    y[, s, 1] <- y[, s, 1] + log(grown)
    for (m in 2:3) y[, s, m] <- y[, s, m] + lasting[, m] + normal(places, 0.15)
  }
  y[, , 3] <- y[, , 3] - y[, , 1]
  these <- apply(strays[2, , , drop = FALSE] - strays[1, , , drop = FALSE], 3, mean); these[3] <- these[3] - these[1]
  lot <- cbind(ground[at, 1] + log(exp(liking) %*% base), ground[at, 2:3] + lasting[, 2:3]); lot[, 3] <- lot[, 3] - lot[, 1]
  t(vapply(1:3, function(m) {
    v <- matrix(y[, , m], places)
    if (layout == "one garden a method") {
      d <- v[side == 2, ] - v[side == 1, ]
      return(c(mean(d), sd(d) / sqrt(seasons), seasons - 1, lot[side == 2, m] - lot[side == 1, m]))
    }
    if (layout == "swapped gardens") {
      x <- cbind(1, model.matrix(~ factor(row(v)) + factor(col(v)))[, -1], c(method) == 2)
      fit <- lm.fit(x, c(v)); last <- ncol(x)
      se <- sqrt(sum(fit$residuals^2) / fit$df.residual * chol2inv(fit$qr$qr)[last, last])
      return(c(fit$coefficients[last], se, fit$df.residual, these[m]))
    }
    mean_of <- rowMeans(v)
    if (shared) {
      d <- mean_of[side == 2] - mean_of[side == 1]
      return(c(mean(d), sd(d) / sqrt(units), units - 1, these[m]))
    }
    a <- mean_of[side == 1]; b <- mean_of[side == 2]
    c(mean(b) - mean(a), sqrt((var(a) + var(b)) / 2 * 2 / units), 2 * units - 2, these[m])
  }, numeric(4)))
}
designs <- rbind(
  data.frame(layout = "one garden a method", how = "choice", units = 1, seasons = 3),
  data.frame(layout = "gardens", how = rep(c("random", "choice"), each = 4), units = c(2, 3, 4, 6), seasons = 3),
  data.frame(layout = rep(c("split gardens", "blocks of beds"), each = 2), how = "random", units = c(3, 6), seasons = 3),
  data.frame(layout = "swapped gardens", how = "random", units = c(2, 4), seasons = 4))
rows <- unlist(lapply(seq_len(nrow(designs)), function(i) lapply(c(0, 0.06, 0.12), function(stray) {
  d <- designs[i, ]
  all <- vapply(seq_len(trials), function(t) trial(d$layout, d$how, d$units, d$seasons, stray), matrix(0, 3, 4))
  vapply(1:3, function(m) {
    one <- all[m, , ]; reach <- qt(0.975, one[3, ]) * one[2, ]
    sprintf('  {"layout": "%s", "how": "%s", "units": %d, "methodBySeason": %s, "measure": "%s", "holds": %.4f, "told": %.4f, "width": %.3f}',
      d$layout, d$how, d$units, format(stray), c("weight", "work", "inputsPerKg")[m], mean(abs(one[1, ] - one[4, ]) <= reach),
      mean(abs(one[1, ]) > reach), exp(median(2 * reach)))
  }, "")
})))
cat("[\n", paste(rows, collapse = ",\n"), "\n]\n", sep = "")
