# --- The figures of the sentences, the ratio of every season, and what else can fool.
# What the sentences say of each method beside the reference.
assigned <- methods$method[methods$method %in% assignments$method[assignments$season %in% counted]]
others <- setdiff(assigned, reference)
chosen <- list(weights = rules["weights"], mix = rules["mix"], outside = rules["outside"], crops = fixed_crops)

# How many ways of counting there are, in how many the order is that of the finding's own, and which rules
# alone turn it.
ways_found <- function(ways, ratios, own) {
  changed <- vapply(names(own), function(rule) ways[[rule]] != own[[rule]], logical(nrow(ways)))
  changed <- matrix(changed, nrow = nrow(ways), dimnames = list(NULL, names(own)))
  first <- ratios[rowSums(changed) == 0]
  if (is.na(first)) first <- 1
  # A ratio that is read as 1.00 has no order.
  order_of <- function(ratio) ifelse(half_up(100 * ratio) == 100, 0, sign(ratio - 1))
  like <- order_of(ratios) * order_of(first)
  turns <- vapply(names(own), function(rule) any(changed[, rule] & rowSums(changed) == 1 & !is.na(like) & like < 0),
      TRUE)
  list(ways = sum(!is.na(ratios)), waysInOrder = if (order_of(first) == 0) NA else sum(like > 0, na.rm = TRUE),
    waysLow = min(ratios, first, na.rm = TRUE),
    waysHigh = max(ratios, first, na.rm = TRUE), rulesThatTurn = sum(turns))
}
# A way that keeps under a tenth of a season's kilograms on either side is left out.
grams_of <- function(s, a, b, how) {
  crops <- crops_of(s, a, b, how)
  if (is.null(crops)) c(0, 0) else c(sum(crops$grams_a), sum(crops$grams_b))
}
keeps_enough <- function(a, b, how, in_seasons) all(vapply(in_seasons, function(s) {
  all <- how; all$weights <- "all"; all$outside <- "counted"
  all(grams_of(s, a, b, how) >= 0.1 * grams_of(s, a, b, all))
}, TRUE))
every_way <- function(a, b, in_seasons) {
  ways <- expand.grid(outside = c("counted", "set left out"), mix = c("pooled areas", "equal parts"),
    weights = c("marketable", "all"), stringsAsFactors = FALSE)
  ratios <- vapply(seq_len(nrow(ways)), function(i) {
    how <- c(as.list(ways[i, ]), list(crops = fixed_crops))
    asked <- identical(how[names(chosen)], lapply(chosen, unname))
    over <- if (asked || keeps_enough(a, b, how, in_seasons)) over_seasons(a, b, how)
    if (is.null(over) || length(over$logs) == 0 || length(over$failed) > 0) NA_real_ else exp(mean(over$logs))
  }, 0)
  ways_found(ways, ratios, chosen[c("outside", "mix", "weights")])
}
# The range of ratios when each crop, or each season, is left out in turn; and crops without which nothing is told.
without_crop <- function(seasons, name) vapply(seasons, function(one) {
  rest <- one$crops[one$crops$name != name, ]
  log(sum(rest$share * rest$rate_b) / sum(rest$share * rest$rate_a))
}, 0)
range_of <- function(name, ratios) {
  ratios <- ratios[is.finite(ratios)]
  if (length(ratios) == 0) NULL else setNames(list(min(ratios), max(ratios)), paste0(name, c("Low", "High")))
}
leaving_out <- function(seasons, level) {
  names <- seasons[[1]]$crops$name; logs <- vapply(seasons, function(one) one$log, 0)
  left <- lapply(names, function(name) without_crop(seasons, name))
  told <- function(own) length(own) > 1 && side(t_interval(own, level)) != 0
  once <- function(one) { crops <- one$crops[one$crops$rate_a + one$crops$rate_b > 0, ]
    log(mean(crops$rate_b / (crops$rate_a + crops$rate_b)) / mean(crops$rate_a / (crops$rate_a + crops$rate_b))) }
  c(if (length(names) > 1) range_of("leavingOut", vapply(left, function(own) exp(mean(own)), 0)),
    if (length(logs) > 1) range_of("leavingSeasonOut", vapply(seq_along(logs), function(i) exp(mean(logs[-i])), 0)),
    list(cropsOnce = exp(mean(vapply(seasons, once, 0)))),
    if (length(logs) > 1) list(cropsThatCarry = if (length(names) > 1 && told(logs))
      sum(vapply(left, function(own) all(is.finite(own)) && !told(own), TRUE)) else 0))
}
# The smallest ratio that a t test of these seasons would show four times in five (noncentral t).
smallest_seen <- function(logs) {
  n <- length(logs); t <- qt(0.975, n - 1)
  power <- function(d) pt(t, n - 1, d / sd(logs) * sqrt(n), lower.tail = FALSE) + pt(-t, n - 1,
      d / sd(logs) * sqrt(n))
  if (!(sd(logs) > 0)) return(NA)
  exp(uniroot(function(d) power(d) - 0.8, c(sd(logs) * 1e-3, sd(logs) * 36 / sqrt(n)), tol = 1e-15,
      maxiter = 10000)$root)
}
# The ratio with the open weeks of either side at their most, the other as entered.
ends_of_weights <- function(a, b, in_seasons) {
  most <- lapply(c(a, b), at_most, in_seasons)
  if (is.null(most[[1]]) || is.null(most[[2]]) || most[[1]]$open + most[[2]]$open == 0) return(NULL)
  ends <- lapply(most, function(one) over_seasons(a, b, chosen, one$plantings))
  if (any(vapply(ends, function(one) is.null(one), TRUE))) return(NULL)
  ends
}
yield_finding <- function(a, b) {
  over <- over_seasons(a, b, chosen)
  if (is.null(over)) return(NULL)
  if (length(over$failed) > 0) {
    all <- c(over$seasons, over$failed)
    rates <- c(mean(vapply(all, function(one) one$a, 0)), mean(vapply(all, function(one) one$b, 0)))
    return(list(ratio = if (rates[1] > 0) rates[2] / rates[1] else NA, seasons = length(all), rateA = rates[1],
        rateB = rates[2]))
  }
  ends <- ends_of_weights(a, b, names(over$seasons))
  if (length(over$logs) < 2) {
    found <- c(list(ratio = exp(over$logs[[1]]), crops = nrow(over$seasons[[1]]$crops)),
      leaving_out(over$seasons, level))
    logs <- unlist(lapply(ends, function(one) one$logs[1]))
    if (length(ends) == 2 && length(logs) == 2)
      found <- c(found, list(openWeeksLow = exp(logs[[1]]), openWeeksHigh = exp(logs[[2]]),
          openWeeksStand = +(sign(logs[[1]]) == sign(logs[[2]]))))
    return(found)
  }
  interval <- t_interval(over$logs, level)
  found <- c(as.list(interval), list(level = level, seasons = length(over$logs), crops = over$crops,
      smallestSeen = smallest_seen(over$logs)), every_way(a, b, names(over$seasons)), leaving_out(over$seasons, level))
  if (length(ends) == 2 && all(vapply(ends, function(one) length(one$failed) == 0 && length(one$logs) > 1, TRUE))) {
    at_ends <- lapply(ends, function(one) t_interval(one$logs, level))
    found <- c(found, list(openWeeksLow = at_ends[[1]][["ratio"]], openWeeksHigh = at_ends[[2]][["ratio"]],
      openWeeksStand = +all(vapply(at_ends, side, 0) == side(interval))))
  }
  found
}

# Hours and cost of one method over another: one log ratio a season that is whole, with all that each grew.
measure <- function(t, key, how) {
  grams <- t[["marketableG"]] + (if (how$weights == "all") t[["unmarketableG"]] else 0)
  area <- if (how$area == "gross") t[["grossAreaCm2"]] else t[["bedAreaCm2"]]
  all <- c(ground = t[["minutesWithoutHarvest"]] - t[["minutesOfMakingCompost"]], harvest = t[["minutesOfHarvest"]],
    compost = t[["minutesOfMakingCompost"]])
  part <- function(kind) all[[kind]] - (if (how$establishing == "counted") 0 else t[[paste0(kind, "Establishing")]]) +
    (if (how$establishing == "spread") t[[paste0(kind, "Spread")]] else 0)
  minutes <- part("ground") + (if (how$harvest == "with") part("harvest") else 0) +
    (if (how$own == "free") part("compost") else 0)
  paid <- if (how$own == "free") "cash" else "cost"
  cost <- t[[paste0(paid, "Minor")]] - (if (how$establishing == "counted") 0 else t[[paste0(paid, "Establishing")]]) +
    (if (how$establishing == "spread") t[[paste0(paid, "Spread")]] else 0)
  value <- switch(key, hours = minutes, hoursPerBed = minutes / area, hoursPerKg = minutes / grams,
    costPerKg = cost / grams)
  if (is.finite(value)) value else 0
}
choices <- list(weights = c("marketable", "all"), area = c("bed", "gross"), harvest = c("with", "without"),
  establishing = c("counted", "left out", "spread"), own = c("free", "valued"))
touched_by <- list(hoursPerBed = c("area", "harvest", "establishing", "own"),
  hoursPerKg = c("weights", "harvest", "establishing", "own"), costPerKg = c("weights", "establishing", "own"))
stands <- function(s, method) method %in% methods$method && totals[[s]][method, "gardens"] > 0
# The way of the finding itself: hours on the ground without harvest work, all else as the first choice;
# over its own seasons.
every_measure_way <- function(a, b, key, whole) {
  each <- do.call(rbind, lapply(whole, function(s) totals[[s]][c(a, b), , drop = FALSE]))
  matters <- c(own = any(each[, "minutesOfMakingCompost"] > 0 | each[, "costMinor"] != each[, "cashMinor"]),
    establishing = any(rowSums(each[, c("minutesOfEstablishing", "costEstablishing", "groundSpread", "harvestSpread",
        "compostSpread", "costSpread")]) > 0))
  varied <- setdiff(touched_by[[key]], names(matters)[!matters])
  own <- lapply(choices, function(all) all[1])
  if (key == "hoursPerBed") own$harvest <- "without"
  ways <- do.call(expand.grid, c(ifelse(names(choices) %in% varied, choices, own), stringsAsFactors = FALSE))
  names(ways) <- names(choices)
  kept <- function(t, how, is_own) {
    minutes <- t[["minutesWithoutHarvest"]] + t[["minutesOfHarvest"]]
    grams <- if (how$weights == "all") 1 else t[["marketableG"]] / (t[["marketableG"]] + t[["unmarketableG"]])
    under <- measure(t, "hours", how) / minutes
    is_own || !(key != "costPerKg" && isTRUE(under < 0.1) || key != "hoursPerBed" && isTRUE(grams < 0.1))
  }
  ratios <- vapply(seq_len(nrow(ways)), function(i) {
    how <- as.list(ways[i, ])
    is_own <- all(vapply(varied, function(rule) how[[rule]] == own[[rule]], TRUE))
    in_both <- function(s) kept(totals[[s]][a, ], how, is_own) && kept(totals[[s]][b, ], how, is_own)
    if (!all(vapply(whole, in_both, TRUE)))
      return(NA_real_)
    logs <- vapply(whole, function(s) log(measure(totals[[s]][b, ], key, how) / measure(totals[[s]][a, ], key, how)),
        0)
    if (length(logs) == 0 || any(!is.finite(logs))) NA_real_ else exp(mean(logs))
  }, 0)
  ways_found(ways, ratios, own[varied])
}
# Hours without harvest work, whatever the ways of counting say elsewhere.
burden <- function(t, key) switch(key, hoursPerBed = t[["minutesWithoutHarvest"]] / t[["bedAreaCm2"]],
  hoursPerKg = (t[["minutesWithoutHarvest"]] + t[["minutesOfHarvest"]]) / t[["marketableG"]],
  costPerKg = t[["cashMinor"]] / t[["marketableG"]])
# Nine tenths of the weeks closed: of hours, and per kg of weights, where nothing may stand any more either, since
# kilograms to come are not none.
is_whole <- function(t, key) {
  enough <- function(what) t[[what]] >= 0.9 * t[["weeks"]]
  kilograms <- enough("weightsClosed") && t[["standing"]] == 0
  switch(key, hoursPerBed = enough("hoursClosed"), hoursPerKg = kilograms && enough("hoursClosed"),
    costPerKg = kilograms && t[["unpricedCash"]] == 0)
}
# The largest part of what one of the methods has that was written for several of the places together, or for several
# gardens and shared by a rule: only divided over them.
most_divided <- 0.1
spent <- function(t, key) switch(key, hoursPerBed = t[["minutesWithoutHarvest"]],
  hoursPerKg = t[["minutesWithoutHarvest"]] + t[["minutesOfHarvest"]], costPerKg = t[["cashMinor"]])
divided_between <- function(whole, ids, key, unit) {
  part <- function(s, method) {
    method_of <- lies[[s]]
    unit_of <- switch(unit, bed = beds$bed, garden = paste(beds$garden, method_of), method = method_of)
    several <- function(at) length(unique(unit_of[at][!is.na(method_of[at])])) > 1
    own <- which(!is.na(method_of) & method_of == method)
    if (key != "costPerKg") return(sum(vapply(which(labour$season == s), function(l) {
      at <- written_at[[l]]
      if (key == "hoursPerBed" && labour$kind[l] == "harvest") return(0)
      if (!(several(at) || identical(labour$by_rule[l], 1))) 0 else sum(minutes_on[own, l])
    }, 0)))
    sum(vapply(seq_len(nrow(spreadings)), function(k) {
      one <- spreadings[k, ]; age <- age_in(s, one$season)
      at <- which(beds$bed %in% strsplit(as.character(one$beds), " ", fixed = TRUE)[[1]])
      if (age < 0 || is.na(one$cost_minor) || !(several(at) || identical(one$by_rule, 1))) return(0)
      sum(on_beds(part_at(one$cost_minor, one$useful_life_seasons, age), at, one$season)[own])
    }, 0))
  }
  max(0, vapply(ids, function(method) {
    all <- sum(vapply(whole, function(s) spent(totals[[s]][method, ], key), 0))
    if (all == 0) 0 else sum(vapply(whole, part, 0, method)) / all
  }, 0))
}
burden_finding <- function(a, b, key) {
  both <- Filter(function(s) stands(s, a) && stands(s, b), counted)
  whole <- Filter(function(s) is_whole(totals[[s]][a, ], key) && is_whole(totals[[s]][b, ], key), both)
  logs <- vapply(whole, function(s) log(burden(totals[[s]][b, ], key) / burden(totals[[s]][a, ], key)), 0)
  divided <- divided_between(whole, c(a, b), key, "method")
  if (divided > most_divided) return(list(onlyDivided = divided))
  if (length(logs) < 2 || any(!is.finite(logs))) return(NULL)
  interval <- t_interval(logs, level)
  found <- c(as.list(interval[c("ratio", "low", "high")]), list(level = level, seasons = length(logs),
      df = length(logs) - 1), every_measure_way(a, b, key, whole))
  bounds <- lapply(whole, function(s) lapply(c(a = a, b = b), function(id) bounds_of(totals[[s]][id, ], s, id, key)))
  if (any(vapply(bounds, function(one) is.null(one$a) || is.null(one$b), TRUE))) return(found)
  if (sum(vapply(bounds, function(one) one$a[["open"]] + one$b[["open"]], 0)) == 0) return(found)
  ends <- lapply(list(c("low", "high"), c("high", "low")), function(end) t_interval(vapply(bounds, function(one)
    log(one$b[[end[1]]] / one$a[[end[2]]]), 0), level))
  if (any(!is.finite(unlist(ends)))) return(found)
  c(found, list(openWeeksLow = ends[[1]][["ratio"]], openWeeksHigh = ends[[2]][["ratio"]],
    openWeeksStand = +all(vapply(ends, side, 0) == side(interval))))
}

# What else can fool: the ground of two gardens in a year in which both were worked alike, and the ages of
# the methods.
for (b in others) {
  gardens_of <- function(method) unique(beds$garden[unlist(lapply(counted, function(s) which(lies[[s]] == method)))])
  two <- c(gardens_of(reference), gardens_of(b))
  if (length(gardens_of(reference)) == 1 && length(gardens_of(b)) == 1 &&
      two[1] != two[2]) for (s in seasons$season[which(seasons$uniform == 1)]) {
    grown <- grown_in(s); grown$method <- ifelse(is.na(grown$method), NA, grown$garden)
    alike <- crops_together(matched_in(grown, two))
    if (is.null(alike)) next
    rate <- 10 * alike$good / alike$area
    found <- vapply(two, function(garden) sum((alike$both * rate)[alike$method == garden]), 0)
    if (all(found > 0)) answer("cautions", c(name_of(b), season_name(s)), list(uniformYear = found[[2]] / found[[1]]))
  }
  year_of <- function(method) {
    own <- assignments[assignments$season %in% counted & assignments$method == method, ]
    latest <- tail(seasons$season[seasons$season %in% own$season], 1)
    max(0, own$year_of_method[own$season %in% latest], na.rm = TRUE)
  }
  years <- c(year_of(reference), year_of(b))
  if (all(years > 0) && years[1] != years[2]) answer("cautions", c(name_of(b), "all"),
      list(yearOfReference = years[1], yearOfMethod = years[2]))
}
