# --- Replicated layouts: about the methods, all methods at once, season by method, steadiness.
# What kind of trial some methods make of the ground in a season: decided by the layout alone, before any
# result.
layout_in <- function(s, ids) {
  at <- which(lies[[s]] %in% ids)
  cells <- data.frame(bed = beds$bed[at], garden = beds$garden[at], block = beds$block[at], method = lies[[s]][at],
    site = gardens$site[match(beds$garden[at], gardens$garden)])
  of <- function(kind, unit, replicated) {
    count <- if (is.na(unit)) numeric(0) else tapply(cells[[unit]], cells$method, function(x) length(unique(x)))
    list(kind = kind, unit = unit, all = length(unique(cells$method)) == length(ids),
      alone = replicated && any(count == 1))
  }
  n <- length(unique(cells$method)); n_gardens <- length(unique(cells$garden))
  holds_all <- function(holder) !anyNA(cells[[holder]]) && length(unique(cells[[holder]])) > 1 &&
    all(tapply(cells$method, cells[[holder]], function(x) length(unique(x))) == n)
  if (n < 2) return(of("nothing laid", NA, FALSE))
  if (n_gardens == 1) {
    if (holds_all("block") && nrow(cells) - n - length(unique(cells$block)) + 1 > 0) return(of("blocks of beds",
        "bed", TRUE))
    return(if (nrow(cells) > n) of("beds of one garden", "bed", TRUE) else of("one bed a method", NA, FALSE))
  }
  pairs <- unique(cells[, c("garden", "method")])
  if (nrow(pairs) == n_gardens) {
    if (all(table(pairs$method) == 1)) return(of("one garden a method", NA, FALSE))
    if (holds_all("site") && n_gardens - n - length(unique(cells$site)) + 1 > 0) return(of("gardens within sites",
        "garden", TRUE))
    return(of("gardens", "garden", TRUE))
  }
  if (nrow(pairs) == n_gardens * n) return(of("split gardens", "garden", TRUE))
  # Gardens and methods that no garden joins are islands: each takes its own degree of freedom.
  island <- seq_len(nrow(pairs))
  repeat {
    joined <- ave(ave(island, pairs$garden, FUN = min), pairs$method, FUN = min)
    if (all(joined == island)) break
    island <- joined
  }
  of("uneven", "garden", nrow(pairs) - n_gardens - n + length(unique(island)) > 0)
}
# Gardens that were whole under one method in a season and whole under another in another.
turned_over <- function(in_seasons, ids) any(vapply(gardens$garden, function(garden) {
  had <- lapply(in_seasons, function(s) { own <- unique(lies[[s]][beds$garden == garden]); own[own %in% ids] })
  all(lengths(had) <= 1) && length(unique(unlist(had))) > 1
}, TRUE))

# How the seasons lie under some methods, and what one place of a method is: a garden or a bed. NULL where nothing
# replicates the methods.
laid_out <- function(in_seasons, ids) {
  laid <- lapply(in_seasons, layout_in, ids)
  kept <- vapply(laid, function(one) one$all, TRUE)
  if (!any(kept)) return(NULL)
  in_seasons <- in_seasons[kept]; laid <- laid[kept]; first <- laid[[1]]
  turned <- turned_over(in_seasons, ids)
  if (!turned && any(vapply(laid, function(one) one$kind != first$kind, TRUE))) return(NULL)
  unit <- if (is.na(first$unit)) { if (turned) "garden" else return(NULL) } else first$unit
  list(seasons = in_seasons, layout = first, turned = turned, unit = unit,
    place = if (unit == "garden") beds$garden else beds$bed)
}
replicates <- function(a, b) {
  laid <- laid_out(counted, c(a, b))
  !is.null(laid) && (laid$turned || !laid$layout$alone)
}
block_at <- function(kind, at) switch(kind, "split gardens" = , uneven = beds$garden[at],
  "blocks of beds" = beds$block[at], "gardens within sites" = gardens$site[match(beds$garden[at], gardens$garden)], NA)

# One value a place and season: kg per m2 on the common mix of the crops that stood under all the places, in all the
# seasons among which these are looked at.
# NULL where none is carried.
values_of <- function(in_seasons, ids, among = in_seasons, all = plantings) {
  in_seasons <- closed_among(in_seasons, ids); among <- closed_among(among, ids)
  laid <- laid_out(in_seasons, ids)
  if (is.null(laid)) return(NULL)
  in_seasons <- laid$seasons; first <- laid$layout; turned <- laid$turned; place <- laid$place
  mixed <- vapply(among, function(s) layout_in(s, ids)$all, TRUE)
  sets <- lapply(union(in_seasons, among[mixed]), function(s) {
    grown <- grown_in(s, all); at <- match(grown$bed, beds$bed)
    grown$method <- ifelse(grown$method %in% ids, paste(place[at], grown$method), NA)
    under <- which(lies[[s]] %in% ids)
    crops_together(matched_in(grown, unique(paste(place[under], lies[[s]][under]))))
  })
  # A season without any matched crop is a gap, and left out.
  kept <- !vapply(sets, is.null, TRUE)
  in_seasons <- in_seasons[kept[seq_along(in_seasons)]]; sets <- sets[kept]
  if (length(in_seasons) == 0) return(NULL)
  crops <- unique(Reduce(intersect, lapply(sets, function(one) one$name)))
  if (length(crops) == 0) return(NULL)
  areas <- vapply(sets, function(one) one$both[match(crops, one$name)], numeric(length(crops)))
  mix <- rowSums(matrix(areas, nrow = length(crops)))
  mix <- setNames(mix / sum(mix), crops)
  values <- do.call(rbind, lapply(seq_along(in_seasons), function(i) {
    one <- sets[[i]][sets[[i]]$name %in% crops, ]
    rate <- tapply(mix[one$name] * 10 * one$good / one$area, one$method, sum)
    at <- match(sub(" .*", "", names(rate)), place)
    data.frame(unit = names(rate), method = sub(".* ", "", names(rate)), garden = beds$garden[at],
      block = block_at(first$kind, at), season = in_seasons[i], rate = as.vector(rate))
  }))
  list(values = values, layout = first, turned = turned, seasons = length(in_seasons), crops = length(crops),
      unit = laid$unit)
}
# One value a place: the mean over its seasons of the logarithm; those off which nothing came have none.
per_unit <- function(values) {
  log_rate <- tapply(log(values$rate), values$unit, mean)
  one <- values[match(names(log_rate), values$unit), c("unit", "method", "garden", "block")]
  one$log <- as.vector(log_rate)
  list(units = one[is.finite(one$log), ], failed = sum(!is.finite(one$log)))
}
count_of <- function(values, method) sum(values == method)

# The methods and not these plots alone: B over A with the places as what is counted, in the blocks that
# hold them.
about_methods <- function(in_seasons, a, b, level, among = in_seasons, all = plantings) {
  found <- values_of(in_seasons, c(a, b), among, all)
  contrast <- if (!is.null(found)) contrast_of(found, a, b, level)
  if (is.null(contrast)) return(NULL)
  mean_of <- function(method) mean(found$values$rate[found$values$method == method])
  more <- list(crops = found$crops, failed = contrast$failed, allIn = mean_of(b) / mean_of(a))
  list(estimate = contrast$estimate, se = contrast$se, figures = c(contrast$figures, more))
}
contrast_of <- function(found, a, b, level) {
  if (!found$turned && found$layout$alone) return(NULL)
  if (found$turned) {
    data <- found$values[found$values$rate > 0, ]
    data$log <- log(data$rate); failed <- sum(found$values$rate <= 0)
    units <- vapply(c(a, b), function(method) length(unique(data$garden[data$method == method])), 0)
    terms <- c("garden", "season", "method")
  } else {
    one <- per_unit(found$values); data <- one$units; failed <- one$failed
    units <- vapply(c(a, b), function(method) count_of(data$method, method), 0)
    if (any(units < 2)) return(NULL)
    terms <- c(if (!anyNA(data$block)) "block", "method")
  }
  if (!all(c(a, b) %in% data$method)) return(NULL)
  data$method <- factor(data$method, levels = c(a, b))
  terms <- terms[vapply(terms, function(term) length(unique(data[[term]])) > 1, TRUE)]
  model <- lm(reformulate(terms, "log"), data)
  estimate <- coef(model)[[paste0("method", b)]]
  if (df.residual(model) < 1 || is.na(estimate)) return(NULL)
  se <- sqrt(vcov(model)[paste0("method", b), paste0("method", b)])
  if (!(se > 0)) return(NULL)
  reach <- qt((1 + level) / 2, df.residual(model)) * se
  list(estimate = estimate, se = se, failed = failed, figures = list(ratio = exp(estimate), low = exp(estimate - reach),
    high = exp(estimate + reach), level = level, seasons = found$seasons, df = df.residual(model), unitsA = units[[1]],
    unitsB = units[[2]]))
}
# With what open weeks could make of it: those of either side at their most, the other as entered.
methods_finding <- function(a, b) {
  found <- about_methods(counted, a, b, level)$figures
  closed <- closed_among(counted, c(a, b))
  most <- lapply(c(a, b), at_most, closed)
  if (is.null(found) || is.null(most[[1]]) || is.null(most[[2]]) || most[[1]]$open + most[[2]]$open == 0) return(found)
  ends <- lapply(most, function(one) about_methods(counted, a, b, level, counted, one$plantings)$figures)
  if (is.null(ends[[1]]) || is.null(ends[[2]])) return(found)
  side_of <- function(one) side(c(low = one$low, high = one$high))
  c(found, list(openWeeksLow = ends[[1]]$ratio, openWeeksHigh = ends[[2]]$ratio,
    openWeeksStand = +all(vapply(ends, side_of, 0) == side_of(found))))
}
# Hours and costs of every place, all crops, over the seasons that are whole.
burden_of_methods <- function(a, b, key) {
  laid <- laid_out(counted, c(a, b))
  closed_in <- function(s, garden, what) sum(closings$garden == garden & closings$what == what &
    closings$week %in% weeks[[s]]$week) >= 0.9 * nrow(weeks[[s]])
  every <- function(s, what) all(vapply(unique(beds$garden[which(lies[[s]] %in% c(a, b))]), function(garden)
    closed_in(s, garden, what), TRUE))
  whole <- Filter(function(s) is_whole(totals[[s]][a, ], key) && is_whole(totals[[s]][b, ], key) &&
    (key == "costPerKg" || every(s, "hours")) && (key == "hoursPerBed" || every(s, "weights")), laid$seasons)
  if (length(whole) == 0) return(NULL)
  divided <- divided_between(whole, c(a, b), key, laid$unit)
  if (divided > most_divided) return(list(onlyDivided = divided))
  values <- do.call(rbind, lapply(whole, function(s) {
    under <- which(lies[[s]] %in% c(a, b))
    grown <- plantings[plantings$season == s & plantings$purpose == "harvest", ]
    minutes_of <- function(kinds) rowSums(minutes_on[, labour$season == s & labour$kind %in% kinds, drop = FALSE])
    cash <- numeric(nrow(beds))
    for (k in which(age_in(s, spreadings$season) >= 0 & !is.na(spreadings$cost_minor))) {
      one <- spreadings[k, ]
      at <- which(beds$bed %in% strsplit(as.character(one$beds), " ", fixed = TRUE)[[1]])
      cash <- cash + on_beds(part_at(one$cost_minor, one$useful_life_seasons, age_in(s, one$season)), at,
        one$season)
    }
    each <- data.frame(bedAreaCm2 = bed_area[[s]], minutesWithoutHarvest = minutes_of(c("ground", "compost")),
      minutesOfHarvest = minutes_of("harvest"), cashMinor = cash,
      marketableG = sum_by(grown$good, grown$bed, beds$bed))[under, ]
    of_unit <- rowsum(each, paste(laid$place, lies[[s]])[under])
    at <- match(sub(" .*", "", rownames(of_unit)), laid$place)
    method <- sub(".* ", "", rownames(of_unit)); place <- sub(" .*", "", rownames(of_unit))
    ends <- lapply(seq_len(nrow(of_unit)), function(i)
      bounds_of(of_unit[i, ], s, method[i], key, beds$bed[laid$place == place[i]]))
    end <- function(which) vapply(ends, function(one) if (is.null(one)) NA_real_ else one[[which]], 0)
    data.frame(unit = rownames(of_unit), method = method, garden = beds$garden[at],
      block = block_at(laid$layout$kind, at), season = s,
      rate = vapply(seq_len(nrow(of_unit)), function(i) burden(of_unit[i, ], key), 0),
      low = end("low"), high = end("high"), open = end("open"))
  }))
  if (!all(is.finite(values$rate) & values$rate > 0)) return(NULL)
  found <- list(values = values, layout = laid$layout, turned = laid$turned, seasons = length(whole))
  contrast <- contrast_of(found, a, b, level)
  if (is.null(contrast)) return(NULL)
  told <- c(contrast$figures, every_measure_way(a, b, key, whole))
  if (anyNA(values$open) || sum(values$open) == 0) return(told)
  ends <- lapply(c(b, a), function(least) {
    found$values$rate <- ifelse(values$method == least, values$low, values$high)
    contrast_of(found, a, b, level)$figures
  })
  if (is.null(ends[[1]]) || is.null(ends[[2]])) return(told)
  side_of <- function(one) side(c(low = one$low, high = one$high))
  c(told, list(openWeeksLow = ends[[1]]$ratio, openWeeksHigh = ends[[2]]$ratio,
    openWeeksStand = +all(vapply(ends, side_of, 0) == side_of(contrast$figures))))
}
# Where several places stand for each method they are its replicates, and seasons are none.
for (b in others) {
  of <- name_of(b)
  if (b %in% names(levels)) level <- levels[[b]]
  if (replicates(reference, b)) {
    answer("findings", c(of, "methods"), methods_finding(reference, b))
    for (key in names(touched_by)) answer("findings", c(of, key), burden_of_methods(reference, b, key))
  } else {
    answer("findings", c(of, "matched yield"), yield_finding(reference, b))
    for (key in names(touched_by)) answer("findings", c(of, key), burden_finding(reference, b, key))
  }
}
for (b in others) {
  of <- name_of(b)
  if (b %in% names(levels)) level <- levels[[b]]
  if (length(counted) < 2) next
  over <- over_seasons(reference, b, chosen)
  if (is.null(over)) next
  for (s in names(over$seasons)) answer("seasons", c(of, season_name(s)), list(ratio = exp(over$seasons[[s]]$log)))
  for (s in names(over$failed)) if (over$failed[[s]]$a > 0) answer("seasons", c(of, season_name(s)), list(ratio = 0))
  if (length(over$failed) == 0 && length(over$logs) > 1 && !replicates(reference, b))
    answer("seasons", c(of, "all seasons"), as.list(t_interval(over$logs, level)))
}


# All methods in one analysis of variance of the logarithms.
ids <- c(reference, others)
found <- if (length(ids) > 1) values_of(counted, ids)
if (!is.null(found) && !found$turned && !found$layout$alone) {
  one <- per_unit(found$values); units <- one$units
  units$treatment <- factor(units$method, levels = ids)
  of_method <- table(units$treatment)
  blocked <- !anyNA(units$block) && length(unique(units$block)) > 1
  model <- if (all(of_method > 0)) lm(if (blocked) log ~ block + treatment else log ~ treatment, units)
  if (!is.null(model) && df.residual(model) > 0 && deviance(model) > 0 && "treatment" %in% rownames(anova(model))) {
    table <- anova(model); ms <- table["Residuals", "Mean Sq"]; df <- df.residual(model)
    for (source in rownames(table)) answer("replicates", c("analysis of variance",
        if (source == "Residuals") "error" else source),
      list(df = table[source, "Df"], ss = table[source, "Sum Sq"], ms = table[source, "Mean Sq"], f = table[source,
          "F value"], p = table[source, "Pr(>F)"]))
    for (method in ids) answer("replicates", c("all methods", name_of(method)),
      list(units = of_method[[method]], kgPerM2 = exp(mean(units$log[units$method == method]))))
    sed <- if (length(unique(of_method)) == 1) sqrt(2 * ms / of_method[[1]]) else NA
    # Blocks taken out first; of two methods what is left of one is then what is left of the other.
    spread <- function(x) {
      left <- if (blocked) x - ave(x, units$block) else x; sds <- tapply(left, units$treatment, sd)
      if (all(of_method >= 3) && all(sds > 0)) max(sds) / min(sds) else NA
    }
    spreads <- c(spread(exp(units$log)), spread(units$log))
    if (anyNA(spreads) || (blocked && length(ids) < 3)) spreads <- c(NA, NA)
    answer("replicates", c("all methods", "all"), list(df = df, failed = one$failed, standardErrorRatio = exp(sed),
      leastDifferenceRatio = exp(qt(0.975, df) * sed), cv = 100 * sqrt(ms),
      spreadAsWeighed = spreads[1], spreadOfLogs = spreads[2]))
  }
}

# How much the difference of two methods moves from season to season: random effects by REML, modified
# Hartung-Knapp interval.
pooled <- function(y, v) {
  k <- length(y)
  at <- function(tau2) { w <- 1 / (v + tau2); m <- sum(w * y) / sum(w); list(w = w, m = m, q = sum(w * (y - m)^2)) }
  lack <- function(tau2) { f <- at(tau2); sum((f$w * (y - f$m))^2) - sum(f$w) + sum(f$w^2) / sum(f$w) }
  likelihood <- function(tau2) { f <- at(tau2); -(sum(log(v + tau2)) + log(sum(f$w)) + f$q) / 2 }
  grid <- c(0, exp(seq(log(1e-9 * (var(y) + mean(v))), log(1e3 * (var(y) + mean(v))), length.out = 400)))
  best <- which.max(vapply(grid, likelihood, 0))
  ends <- grid[c(max(1, best - 1), min(length(grid), best + 1))]
  tau2 <- if (lack(ends[1]) > 0 && lack(ends[2]) < 0) uniroot(lack, ends, tol = 1e-16, maxiter = 10000)$root else 0
  f <- at(tau2); se <- sqrt(max(1, f$q / (k - 1)) / sum(f$w)); reach <- qt(0.975, k - 1) * se
  w <- 1 / v; typical <- (k - 1) * sum(w) / (sum(w)^2 - sum(w^2))
  ahead <- if (k < 3) NA else qt(0.975, k - 2) * sqrt(tau2 + 1 / sum(f$w))
  list(ratio = exp(f$m), low = exp(f$m - reach), high = exp(f$m + reach), nextLow = exp(f$m - ahead),
      nextHigh = exp(f$m + ahead),
    i2 = 100 * tau2 / (tau2 + typical))
}
for (b in others) {
  each <- Filter(Negate(is.null), lapply(closed_among(counted, c(reference, b)),
    about_methods, reference, b, 0.95, counted))
  if (length(each) > 1) answer("replicates", c("season by method", name_of(b)),
    pooled(vapply(each, function(one) one$estimate, 0), vapply(each, function(one) one$se^2, 0)))
}

# How steady each method was over the seasons, on the crops that all seasons share.
of_season <- lapply(counted, function(s) { one <- matched_in(grown_in(s), ids)
  if (!is.null(one)) aggregate(one[, c("area", "good", "both")], one[, c("name", "method")], sum) })
crops <- if (any(vapply(of_season, is.null, TRUE))) NULL else Reduce(intersect, lapply(of_season,
    function(one) one$name))
if (length(ids) > 1 && length(counted) > 2 && length(crops) > 0) {
  areas <- vapply(of_season, function(one) vapply(crops, function(name) sum(one$area[one$name == name]), 0),
      numeric(length(crops)))
  mix <- rowSums(matrix(areas, nrow = length(crops))); mix <- setNames(mix / sum(mix), crops)
  yields <- t(vapply(ids, function(method) vapply(of_season, function(one) {
    own <- one[one$method == method & one$name %in% crops, ]
    sum(mix[own$name] * 10 * own$good / own$area)
  }, 0), numeric(length(counted))))
  g <- nrow(yields); e <- ncol(yields); index <- colMeans(yields) - mean(yields)
  ecovalence <- rowSums((yields - rowMeans(yields) - rep(index, each = g))^2)
  if (sum(index^2) > 0) for (i in seq_len(g)) answer("replicates", c("steadiness", name_of(ids[i])), list(
    mean = mean(yields[i, ]), cv = 100 * sd(yields[i, ]) / mean(yields[i, ]), slope = sum((yields[i,
        ] - mean(yields[i, ])) * index) / sum(index^2),
    shukla = if (g < 3) NA else max(0, (g * (g - 1) * ecovalence[i] - sum(ecovalence)) / ((e - 1) * (g - 1) * (g - 2))),
    superiority = sum((yields[i, ] - apply(yields, 2, max))^2) / (2 * e), seasons = e))
}
