# --- Single plantings in one mixed model.
# Single plantings in one mixed model of their logarithms by REML, Satterthwaite's degrees of freedom: the
# method fixed and places at random; crops, seasons and gardens that hold both methods fixed below five of
# them and at random from five on.
mixed_model <- function(y, x, groups) {
  n <- length(y); kept <- qr(x); x <- x[, kept$pivot[seq_len(kept$rank)], drop = FALSE]
  if (n <= ncol(x)) return(NULL)
  # A group that the fixed part carries already, or that parts the rows as one before it does, tells nothing.
  same <- list(); single <- FALSE
  for (name in names(groups)) {
    within <- outer(groups[[name]], groups[[name]], "==") + 0
    levels <- outer(groups[[name]], unique(groups[[name]]), "==") + 0
    if (qr(cbind(x, levels))$rank == ncol(x) || any(vapply(same, identical, TRUE, within))) next
    if (ncol(levels) == n) single <- TRUE else same[[name]] <- within
  }
  if (single) return(NULL)
  same$residual <- diag(n); k <- length(same)
  # The criterion (twice the negative log likelihood), its slope and its curvature in the variances.
  at <- function(s2) {
    v <- Reduce("+", Map("*", s2, same)); inverse <- chol2inv(chol(v)); vx <- inverse %*% x
    xx <- crossprod(x, vx); cov <- solve(xx); p <- inverse - vx %*% cov %*% t(vx); py <- p %*% y
    list(cov = cov, vx = vx, p = p, py = py, beta = cov %*% crossprod(vx, y),
      value = as.numeric(determinant(v)$modulus + determinant(xx)$modulus + sum(y * py)))
  }
  slope <- function(f) vapply(same, function(v) sum(f$p * v) - sum(f$py * (v %*% f$py)), 0)
  curve <- function(f, free) { pv <- lapply(same[free], function(v) f$p %*% v)
    outer(seq_along(free), seq_along(free), Vectorize(function(i, j)
      2 * sum((same[free][[i]] %*% f$py) * (f$p %*% (same[free][[j]] %*% f$py))) - sum(pv[[i]] * t(pv[[j]])))) }
  scale <- var(y)
  found <- optim(rep(scale / k, k), function(s2) at(s2)$value, function(s2) slope(at(s2)), method = "L-BFGS-B",
    lower = c(rep(0, k - 1), scale * 1e-8), control = list(factr = 10, pgtol = 0, maxit = 1000))$par
  found[found < 1e-9 * found[k]] <- 0
  free <- which(found > 0)
  for (i in 1:20) {
    f <- at(found); step <- solve(curve(f, free), slope(f)[free])
    if (all(found[free] - step > 0)) found[free] <- found[free] - step
  }
  f <- at(found); last <- ncol(x); spread <- 2 * solve(curve(f, free))
  seen <- f$vx %*% f$cov[, last]
  bend <- vapply(same[free], function(v) sum(seen * (v %*% seen)), 0)
  variance <- f$cov[last, last]
  list(estimate = f$beta[last], se = sqrt(variance), df = 2 * variance^2 / sum(bend * (spread %*% bend)),
      sd = setNames(sqrt(found), names(same)))
}
for (b in others) {
  found <- values_of(counted, c(reference, b))
  if (is.null(found) || found$turned || found$layout$alone) next
  plots <- plantings[plantings$season %in% unique(found$values$season) & plantings$method %in% c(reference, b), ]
  # A set that lies under one of the two alone, or of which something still stands, is out as a whole.
  whole <- unlist(lapply(unique(found$values$season), function(s) unique(matched_in(grown_in(s), c(reference, b))$set)))
  plots <- plots[plots$matched_set %in% whole & plots$purpose == "harvest", ]
  failed <- sum(plots$good == 0); plots <- plots[plots$good > 0, ]
  holder <- switch(found$layout$kind, "split gardens" = , uneven = "garden", "gardens within sites" = "site",
    "blocks of beds" = "block", NA)
  split <- !is.na(holder) && holder == "garden"
  plots$site <- gardens$site[match(plots$garden, gardens$garden)]; plots$block <- beds$block[match(plots$bed, beds$bed)]
  plots$unit <- if (found$unit == "bed") plots$bed else paste(plots$garden, plots$method)
  factors <- c("name", "season", if (!is.na(holder)) holder)
  number <- vapply(factors, function(one) length(unique(plots[[one]])), 0)
  if (!all(c(reference, b) %in% plots$method)) next
  fixed <- factors[number > 1 & number < 5]
  x <- cbind(1, if (length(fixed) > 0) model.matrix(reformulate(fixed), plots)[, -1, drop = FALSE], plots$method == b)
  words <- c(name = "crop", season = "season", garden = "garden", site = "site", block = "block")
  groups <- c(setNames(lapply(factors[number >= 5], function(one) plots[[one]]), words[factors[number >= 5]]),
    setNames(list(plots$unit), if (split) "garden by method" else found$unit))
  model <- mixed_model(log(10 * plots$good / plots$area_cm2), x, groups)
  if (is.null(model) || !(model$se > 0)) next
  reach <- qt(0.975, model$df) * model$se
  answer("replicates", c("single plantings", name_of(b)), c(list(ratio = exp(model$estimate),
      low = exp(model$estimate - reach),
    high = exp(model$estimate + reach), df = model$df, plots = nrow(plots), failed = failed),
    setNames(as.list(model$sd), paste("sd of", names(model$sd)))))
}
