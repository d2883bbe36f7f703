# --- The parts of the gaps, all methods at once, losses by cause, and the ground.
# Why the gap in kg per m2 of bed: how fully the ground was used, what was grown, how well it grew. Of one
# season.
ground_of <- function(s, method) {
  own <- plantings[plantings$season == s & plantings$purpose == "harvest" & plantings$method %in% method, ]
  of_beds <- sum(bed_area[[s]][which(lies[[s]] == method)]) / 10000
  if (nrow(own) == 0) return(list(bed_area = of_beds, area = numeric(0), kg = numeric(0)))
  by_crop <- rowsum(own[, c("area_cm2", "good")], own$name)
  list(bed_area = of_beds, area = setNames(by_crop$area_cm2 / 10000, rownames(by_crop)),
    kg = setNames(by_crop$good / 1000, rownames(by_crop)))
}
# A product of three factors at two places: what the change of the first does, averaged over the orders in
# which they change.
effect <- function(change, other_a, other_b, third_a, third_b)
  change * ((other_a * third_a + other_b * third_b) / 3 + (other_a * third_b + other_b * third_a) / 6)
only <- if (length(counted) == 1) counted else character(0)
for (s in only) for (b in others) {
  a_ground <- ground_of(s, reference); b_ground <- ground_of(s, b)
  if (!(a_ground$bed_area > 0 && b_ground$bed_area > 0)) next
  crops <- intersect(names(a_ground$area)[a_ground$area > 0], names(b_ground$area)[b_ground$area > 0])
  factors <- function(ground) { area <- ground$area[crops]
    list(i = rep(sum(area) / ground$bed_area, length(crops)), s = area / sum(area), r = ground$kg[crops] / area) }
  fa <- factors(a_ground); fb <- factors(b_ground)
  parts <- data.frame(intensity = effect(fb$i - fa$i, fa$s, fb$s, fa$r, fb$r), mix = effect(fb$s - fa$s, fa$i, fb$i,
      fa$r, fb$r),
    growth = effect(fb$r - fa$r, fa$i, fb$i, fa$s, fb$s))
  alone <- function(ground) sum(ground$kg[!names(ground$kg) %in% crops]) / ground$bed_area
  crude <- function(ground) sum(ground$kg) / ground$bed_area
  answer("gaps", c(name_of(b), "all crops"), c(list(gap = crude(b_ground) - crude(a_ground)), as.list(colSums(parts)),
    list(onlyB = alone(b_ground), onlyA = -alone(a_ground))))
  for (i in seq_along(crops)) answer("gaps", c(name_of(b), crops[i]), as.list(parts[i, ]))
}

# The gap in hours and in cost per kg, over the crops for whose plantings they were written under both;
# shares are of kg.
of_crops <- function(s, method, what) {
  own <- plantings[plantings$season == s & plantings$purpose == "harvest" & plantings$method %in% method, ]
  kg <- tapply(own$good / 1000, own$name, sum)
  if (what == "hours") { written <- labour; amount <- labour$person_minutes / 60 }
  else {
    written <- spreadings
    amount <- vapply(seq_len(nrow(spreadings)), function(k)
      if (is.na(spreadings$cost_minor[k])) NA_real_ else part_at(spreadings$cost_minor[k],
          spreadings$useful_life_seasons[k], 0), 0)
  }
  crop <- own$name[match(written$planting, own$planting)]
  known <- !is.na(crop) & !is.na(amount)
  sums <- tapply(amount[known], crop[known], sum)
  crops <- intersect(names(sums), names(kg)[kg > 0])
  t <- totals[[s]][method, ]
  all <- if (what == "hours") (t[["minutesWithoutHarvest"]] + t[["minutesOfHarvest"]]) / 60 else t[["cashMinor"]]
  list(crops = crops, kg = c(kg[crops]), amount = c(sums[crops]), all = all)
}
for (s in only) for (b in others) for (what in c("hours", "cost")) {
  a_side <- of_crops(s, reference, what); b_side <- of_crops(s, b, what)
  crops <- intersect(a_side$crops, b_side$crops)
  if (length(crops) == 0) next
  share <- function(side) side$kg[crops] / sum(side$kg[crops])
  rate <- function(side) side$amount[crops] / side$kg[crops]
  per_kg <- function(side) sum(side$amount[crops]) / sum(side$kg[crops])
  covered <- function(side) if (side$all == 0) 0 else sum(side$amount[crops]) / side$all
  answer("per-kg", c(name_of(b), what), list(gap = per_kg(b_side) - per_kg(a_side),
    mix = sum((rate(a_side) + rate(b_side)) / 2 * (share(b_side) - share(a_side))),
    rate = sum((share(a_side) + share(b_side)) / 2 * (rate(b_side) - rate(a_side))),
    coveredA = covered(a_side), coveredB = covered(b_side)))
}

# All methods at once over the crops that stood under all of them: the rate if only one factor had differed
# (Das Gupta 1993).
for (s in only) {
  ids <- c(reference, others)
  grounds <- lapply(ids, ground_of, s = s)
  if (length(ids) < 3 || any(vapply(grounds, function(one) one$bed_area, 0) <= 0)) next
  crops <- Reduce(intersect, lapply(grounds, function(one) names(one$area)[one$area > 0]))
  if (length(crops) == 0) next
  factors <- lapply(grounds, function(one) { area <- one$area[crops]
    list(intensity = sum(area) / one$bed_area, mix = area / sum(area), growth = one$kg[crops] / area) })
  rate <- function(f) sum(f$intensity * f$mix * f$growth)
  # One factor of the first, the others of both in turn: of both first or both second a third each, of one
  # of each a sixth.
  if_only <- function(i, j, factor) {
    mine <- factors[[i]]; yours <- factors[[j]]; rest <- setdiff(names(mine), factor)
    mixed <- function(from) { f <- mine; f[from] <- yours[from]; rate(f) }
    (rate(mine) + mixed(rest)) / 3 + (mixed(rest[1]) + mixed(rest[2])) / 6
  }
  n <- length(ids)
  for (i in seq_len(n)) {
    standardised <- sapply(c("intensity", "mix", "growth"), function(factor) {
      away <- setdiff(seq_len(n), i)
      first <- mean(vapply(away, function(j) if_only(i, j, factor), 0))
      between <- vapply(away, function(j) sum(vapply(setdiff(away, j), function(k) if_only(j, k, factor),
          0)) - (n - 2) * if_only(j, i, factor), 0)
      first + sum(between) / (n * (n - 1))
    }, simplify = FALSE)
    answer("all-methods", name_of(ids[i]), c(list(crude = rate(factors[[i]]), crops = length(crops)), standardised))
  }
}

# Losses by cause, each on what still stood; and gardens that lost a planting whole (Newcombe 1998, method
# 10).
harvested <- plantings[plantings$season %in% counted & plantings$purpose == "harvest", ]
for (method in methods$method) {
  own <- harvested[harvested$method %in% method, ]
  if (nrow(own) == 0) next
  planted <- sum(own$area_cm2); lost <- sum(own$area_cm2 * own$lost) / 1000; kg <- 10 * sum(own$good)
  answer("losses", c(name_of(method), "all", "all"), list(plantings = nrow(own), failed = sum(own$lost == 1000),
      lostShare = lost / planted,
    kgPerM2Standing = if (planted > lost) kg / (planted - lost) else NA, kgPerM2Planted = kg / planted))
  of_method <- losses[losses$planting %in% own$planting, ]
  if (nrow(of_method) == 0) next
  of_method$cause[is.na(of_method$cause)] <- "unknown"
  of_method$area <- own$area_cm2[match(of_method$planting, own$planting)]
  for (one in split(of_method, list(of_method$cause, of_method$outside_method), drop = TRUE))
    answer("losses", c(name_of(method), one$cause[1], if (one$outside_method[1] == 1) "outside" else "of the method"),
      list(count = nrow(one), share = sum(one$area * one$took) / 1000 / planted,
          alsoNextDoor = sum(one$also_next_door == "yes", na.rm = TRUE)))
}
whole_losses <- function(method) {
  own <- harvested[harvested$method %in% method, ]
  gone <- own$planting %in% losses$planting[losses$share_permille == 1000]
  c(events = length(unique(own$garden[gone])), n = length(unique(own$garden)))
}
wilson <- function(x) {
  z <- qnorm(0.975); n <- x[["n"]]; p <- x[["events"]] / n
  ends <- (p + z^2 / (2 * n) + c(-1, 1) * z * sqrt(p * (1 - p) / n + z^2 / (4 * n^2))) / (1 + z^2 / n)
  c(p = p, low = max(0, ends[1]), high = min(1, ends[2]))
}
for (b in others) {
  counts <- list(whole_losses(b), whole_losses(reference))
  if (counts[[1]]["n"] < 2 || counts[[2]]["n"] < 2) next
  one <- wilson(counts[[1]]); other <- wilson(counts[[2]]); apart <- one[["p"]] - other[["p"]]
  answer("losses", c(name_of(b), "gardens that lost a planting whole", "all"), list(difference = apart,
    low = apart - sqrt((one[["p"]] - one[["low"]])^2 + (other[["high"]] - other[["p"]])^2),
    high = apart + sqrt((one[["high"]] - one[["p"]])^2 + (other[["p"]] - other[["low"]])^2)))
}

# The ground: its areas, how many worked there at once, how long methods lay, and pickings soon after raw
# manure. The ground is told as it lay in the last of the seasons.
last <- seasons$season[max(match(counted, seasons$season))]
here <- assignments[assignments$season %in% counted, ]
for (g in which(gardens$garden %in% here$garden)) {
  own <- beds$garden == gardens$garden[g]
  there <- labour$garden %in% gardens$garden[g] | (is.na(labour$garden) & labour$bed %in% beds$bed[own])
  worked <- labour$season %in% counted & there
  answer("ground", c("garden", gardens$name[g]), list(grossAreaCm2 = gross_area[[last]][g],
      bedAreaCm2 = sum(lay_area[[last]][own]),
    beds = sum(lay_area[[last]][own] > 0), mostAtOnce = max(0, labour$people[worked])))
}
for (method in assigned) answer("ground", c("method", name_of(method)),
    list(seasons = length(unique(here$season[here$method == method]))))
manured <- if ("ground" %in% tables) rows("manured") else data.frame(spread_on = character(0), beds = character(0))
for (p in which(plantings$planting %in% harvests$planting[harvests$season %in% counted])) {
  days <- if (plantings$touches_soil[p] %in% 0) 90 else 120
  on <- manured$spread_on[vapply(strsplit(as.character(manured$beds), " ", fixed = TRUE),
      function(at) plantings$bed[p] %in% at, TRUE)]
  picked <- harvests$harvested_on[harvests$planting == plantings$planting[p] & harvests$season %in% counted]
  waited <- as.numeric(outer(as.Date(picked), as.Date(on), "-"))
  waited <- waited[waited >= 0 & waited < days]
  if (length(waited) > 0) answer("ground", c("picked soon after raw manure",
    paste0(plantings$name[p], ", ", gardens$name[match(plantings$garden[p],
        gardens$garden)])), list(waited = min(waited), days = days))
}
