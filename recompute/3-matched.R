# --- Matched crops on a common mix, and the ratio of two methods in each season.
# Cultivars that stood under every one of some methods in a season and are all cleared: one row a set and
# method.
matched_in <- function(grown, ids) {
  grown <- grown[grown$purpose == "harvest" & !is.na(grown$matched_set) & grown$method %in% ids, ]
  if (length(ids) < 2 || nrow(grown) == 0) return(NULL)
  do.call(rbind, lapply(unique(grown$matched_set), function(set) {
    own <- grown[grown$matched_set == set, ]
    if (!all(ids %in% own$method) || any(own$cleared == 0)) return(NULL)
    sums <- rowsum(own[, c("area_cm2", "good", "bad")], own$method)[ids, ]
    data.frame(set = set, crop = own$crop[1], name = own$name[1], method = ids, area = sums$area_cm2,
      good = sums$good, bad = sums$bad, both = sum(own$area_cm2))
  }))
}
# A cultivar sown several times is one crop: what its sets planted and gave, together. One row a crop and
# method.
crops_together <- function(sets) {
  if (is.null(sets)) return(NULL)
  one <- aggregate(sets[, c("area", "good", "bad", "both")], sets[, c("crop", "name", "method")], sum)
  one[order(one$name, one$method), ]
}
grown_in <- function(s, all = plantings) all[all$season == s, ]

# The matched crops of the report: summed over its seasons, and all of them on one common mix.
sets <- do.call(rbind, lapply(counted, function(s) matched_in(grown_in(s), compared)))
if (!is.null(sets)) {
  of_crop <- aggregate(sets[, c("area", "good")], sets[, c("name", "method")], sum)
  of_crop$rate <- 10 * of_crop$good / of_crop$area
  area <- tapply(of_crop$area, of_crop$name, sum)
  for (i in seq_len(nrow(of_crop)))
    answer("matched-crops", of_crop$name[i], setNames(of_crop$rate[i], name_of(of_crop$method[i])))
  for (method in compared) {
    own <- of_crop[of_crop$method == method, ]
    answer("matched-crops", "common mix", setNames(sum(area[own$name] / sum(area) * own$rate), name_of(method)))
  }
}

# Two methods in a season, one row a matched crop: kg per m2 planted under each. By rules: which weights
# count, how crops weigh in the mix, whether sets with a loss from outside the method count, and crops that
# a question fixed.
lost_outside <- unique(plantings$matched_set[plantings$planting %in% losses$planting[losses$outside_method == 1]])
pairs_kept <- new.env()
crops_of <- function(s, a, b, how, all = NULL) {
  key <- paste(s, a, b)
  matched <- if (is.null(all)) pairs_kept[[key]] else matched_in(grown_in(s, all), c(a, b))
  if (is.null(all) && is.null(matched)) {
    matched <- matched_in(grown_in(s), c(a, b))
    if (is.null(matched)) matched <- FALSE
    assign(key, matched, envir = pairs_kept)
  }
  if (is.null(matched) || identical(matched, FALSE)) return(NULL)
  if (how$outside == "set left out") matched <- matched[!matched$set %in% lost_outside, ]
  if (length(how$crops) > 0) matched <- matched[matched$crop %in% how$crops, ]
  if (nrow(matched) == 0) return(NULL)
  matched <- crops_together(matched)
  grams <- matched$good + (if (how$weights == "all") matched$bad else 0)
  rate <- 10 * grams / matched$area
  of_a <- matched$method == a; of_b <- matched$method == b
  data.frame(name = matched$name[of_a], rate_a = rate[of_a], rate_b = rate[match(matched$name[of_a], ifelse(of_b,
      matched$name, NA))], grams_a = grams[of_a],
    grams_b = grams[match(matched$name[of_a], ifelse(of_b, matched$name, NA))],
    weight = if (how$mix == "equal parts") 1 else matched$both[of_a])
}
mix_of <- function(crops, how) {
  mix <- tapply(crops$weight, crops$name, sum)
  setNames(if (how$mix == "equal parts") rep(1, length(mix)) else as.vector(mix), names(mix))
}
# Direct standardisation: both methods as if they had grown these crops in the same parts.
on_mix <- function(crops, mix) {
  share <- mix[crops$name]; share[is.na(share)] <- 0
  if (is.null(crops) || sum(share) == 0) return(NULL)
  crops$share <- as.vector(share / sum(share))
  crops <- crops[crops$share > 0, ]
  a <- sum(crops$share * crops$rate_a); b <- sum(crops$share * crops$rate_b)
  list(a = a, b = b, failed = !(a > 0 && b > 0), log = log(b / a), crops = crops)
}
# A season is told, and not only so far, where nine tenths of its weeks of weights are closed under each method.
is_closed <- function(s, ids, what = "weightsClosed") all(vapply(ids, function(method)
  !stands(s, method) || totals[[s]][method, what] >= 0.9 * totals[[s]][method, "weeks"], TRUE))
closed_among <- function(in_seasons, ids) {
  closed <- Filter(function(s) is_closed(s, ids), in_seasons)
  if (length(closed) > 0) closed else in_seasons
}
# One log ratio a season, on the crops that all the seasons share. Seasons that share none are not taken
# together.
over_seasons <- function(a, b, how, all = NULL) {
  crops <- sapply(counted, crops_of, a, b, how, all, simplify = FALSE)
  first <- lapply(crops, function(one) if (!is.null(one)) on_mix(one, mix_of(one, how)))
  closed <- vapply(counted, is_closed, TRUE, c(a, b)) 
  if (any(closed & !vapply(first, is.null, TRUE))) { crops <- crops[closed]; first <- first[closed] }
  found <- !vapply(first, is.null, TRUE)
  if (!any(found)) return(NULL)
  failed <- vapply(first, function(one) !is.null(one) && one$failed, TRUE)
  kept <- found & !failed
  mix <- mix_of(do.call(rbind, crops[found]), how)
  names_in <- lapply(first[kept], function(one) one$crops$name)
  constant <- Filter(function(name) all(vapply(names_in, function(own) name %in% own, TRUE)), unlist(names_in[1]))
  if (length(constant) > 0) mix <- mix[unique(constant)]
  else if (sum(kept) > 1 && !any(failed)) return(NULL)
  again <- lapply(crops[kept], on_mix, mix)
  again <- again[!vapply(again, is.null, TRUE)]
  late <- vapply(again, function(one) one$failed, TRUE)
  list(seasons = again[!late], failed = c(first[failed], again[late]), crops = length(constant),
    logs = vapply(again[!late], function(one) one$log, 0))
}
# Student's t over the seasons: the mean, its interval, and that for one season more.
t_interval <- function(logs, level = 0.95) {
  n <- length(logs); t <- qt(1 - (1 - level) / 2, n - 1); se <- sd(logs) / sqrt(n)
  ahead <- sd(logs) * sqrt(1 + 1 / n)
  exp(c(ratio = mean(logs), low = mean(logs) - t * se, high = mean(logs) + t * se,
    nextLow = mean(logs) - t * ahead, nextHigh = mean(logs) + t * ahead))
}
side <- function(interval) if (interval["low"] > 1) 1 else if (interval["high"] < 1) -1 else 0
