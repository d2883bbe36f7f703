# --- The sums of each method, the table of measures and the labour by task.
# The sums that every figure rests on, method by method, in one season.
kinds <- c("gardens", "plantings", "bedAreaCm2", "grossAreaCm2", "plantedAreaCm2", "lostAreaPermille", "marketableG",
  "unmarketableG", "minutesWithoutHarvest", "minutesOfHarvest", "minutesOfMakingCompost", "minutesOfEstablishing",
  "groundEstablishing", "groundSpread", "harvestEstablishing", "harvestSpread", "compostEstablishing",
  "compostSpread",
  "costMinor", "costEstablishing", "costSpread", "cashMinor", "cashEstablishing", "cashSpread",
  "unpriced", "unpricedCash",
  "standing", "weeks", "hoursClosed", "weightsClosed", "entries", "entriesFromPaper", "entriesLate")
life_of <- function(method) {
  life <- methods$establishing_seasons[match(method, methods$method)]
  ifelse(is.na(life), 1, life)
}
# The part of a total that falls on one of so many seasons, counted from 0.
part_at <- function(total, life, age) if (age < 0 || age >= life) 0 else split_exactly(total, rep(1, life))[age + 1]
age_in <- function(s, done_in) match(s, seasons$season) - match(done_in, seasons$season)

totals_of <- function(s) {
  t <- matrix(0, nrow(methods), length(kinds), dimnames = list(methods$method, kinds))
  method_of <- lies[[s]]
  add <- function(kind, method, amount) for (i in which(!is.na(method))) t[method[i], kind] <<- t[method[i],
      kind] + amount[i]
  for (garden in seq_len(nrow(gardens))) {
    at <- which(beds$garden == gardens$garden[garden])
    add("bedAreaCm2", method_of[at], bed_area[[s]][at])
    add("grossAreaCm2", method_of[at], split_exactly(gross_area[[s]][garden], bed_area[[s]][at]))
    shut <- closings[closings$garden == gardens$garden[garden] & closings$week %in% weeks[[s]]$week, ]
    for (method in unique(method_of[at][!is.na(method_of[at])])) {
      add("gardens", method, 1); add("weeks", method, nrow(weeks[[s]]))
      add("hoursClosed", method, sum(shut$what == "hours")); add("weightsClosed", method, sum(shut$what == "weights"))
    }
  }
  grown <- plantings[plantings$season == s & plantings$purpose == "harvest", ]
  add("plantings", grown$method, rep(1, nrow(grown))); add("plantedAreaCm2", grown$method, grown$area_cm2)
  add("marketableG", grown$method, grown$good); add("unmarketableG", grown$method, grown$bad)
  add("standing", grown$method, 1 - grown$cleared); add("lostAreaPermille", grown$method, grown$area_cm2 * grown$lost)

  for (l in which(age_in(s, labour$season) >= 0)) {
    age <- age_in(s, labour$season[l]); kind <- labour$kind[l]; minutes <- minutes_on[, l]
    at <- which(minutes > 0)
    if (age == 0) {
      add(if (kind == "harvest") "minutesOfHarvest" else "minutesWithoutHarvest", method_of[at], minutes[at])
      if (kind == "compost") add("minutesOfMakingCompost", method_of[at], minutes[at])
    }
    if (labour$phase[l] != "establishing") next
    if (age == 0) for (sum in c("minutesOfEstablishing", paste0(kind, "Establishing"))) add(sum, method_of[at],
        minutes[at])
    for (b in at) add(paste0(kind, "Spread"), method_of[b], part_at(minutes[b], life_of(lies[[labour$season[l]]][b]),
        age))
  }
  # The phase of what was spread: one for all its beds, or the one that lies on each.
  phase_on <- function(one, at) {
    if (is.na(one$phase) || one$phase != "by bed") return(rep(one$phase, length(at)))
    here <- assignments[assignments$season == one$season, ]
    whole <- here[is.na(here$bed), ]
    own <- here$phase[match(beds$bed[at], here$bed)]
    laid <- ifelse(beds$bed[at] %in% here$bed, own, whole$phase[match(beds$garden[at], whole$garden)])
    ifelse(is.na(laid), "established", laid)
  }
  # What was paid is cost_minor in the rows; valued_minor has the group's own at the value that it states.
  for (k in which(age_in(s, spreadings$season) >= 0)) {
    one <- spreadings[k, ]; age <- age_in(s, one$season)
    at <- which(beds$bed %in% strsplit(as.character(one$beds), " ", fixed = TRUE)[[1]])
    touched <- unique(method_of[at])
    if (age < one$useful_life_seasons) {
      if (is.na(one$valued_minor)) add("unpriced", touched, rep(1, length(touched)))
      if (is.na(one$cost_minor)) add("unpricedCash", touched, rep(1, length(touched)))
    }
    for (key in c("cost", "cash")) {
      minor <- if (key == "cost") one$valued_minor else one$cost_minor
      if (is.na(minor)) next
      parts <- on_beds(part_at(minor, one$useful_life_seasons, age), at, one$season)[at]
      add(paste0(key, "Minor"), method_of[at], parts)
      founding <- which(phase_on(one, at) == "establishing")
      if (length(founding) == 0) next
      add(paste0(key, "Establishing"), method_of[at[founding]], parts[founding])
      whole <- on_beds(minor, at, one$season)
      for (b in at[founding]) {
        life <- max(one$useful_life_seasons, life_of(lies[[one$season]][b]))
        add(paste0(key, "Spread"), method_of[b], part_at(whole[b], life, age))
      }
    }
  }
  # Each entry once for a method that it touches, however many rows and beds it has.
  worked <- which(labour$season == s); weighed <- harvests[harvests$season == s, ]
  touched <- lapply(falls_at[worked], function(at) unique(method_of[at]))
  each <- rep(worked, lengths(touched))
  touches <- rbind(
    data.frame(entry = labour$entry[each], method = as.character(unlist(touched)),
      labour[each, c("from_paper", "late")]),
    data.frame(entry = weighed$harvest, method = method_of[match(plantings$bed[match(weighed$planting,
        plantings$planting)], beds$bed)],
      weighed[, c("from_paper", "late")]))
  touches <- unique(touches)
  add("entries", touches$method, rep(1, nrow(touches)))
  add("entriesFromPaper", touches$method, touches$from_paper); add("entriesLate", touches$method, touches$late)
  t
}
totals <- sapply(counted, totals_of, simplify = FALSE)
sums <- Reduce("+", totals)
compared <- methods$method[sums[, "gardens"] > 0]

# Of every figure that the report declares, the quotient of two sums, and what limits it.
figures_of <- function(t) {
  yields <- if (t$standing > 0 || t$weightsClosed < t$weeks) "so far" else ""
  hours <- if (t$hoursClosed < t$weeks) "at least" else ""
  costs <- if (t$unpricedCash > 0) "at least" else ""
  minutes <- t$minutesWithoutHarvest + t$minutesOfHarvest
  per <- function(over, under, factor, limit) list(if (under == 0) NA else over / under * factor, limit)
  list(
    marketablePerBed = per(t$marketableG, t$bedAreaCm2, 10, yields),
    allPerBed = per(t$marketableG + t$unmarketableG, t$bedAreaCm2, 10, yields),
    marketablePerGross = per(t$marketableG, t$grossAreaCm2, 10, yields),
    allPerGross = per(t$marketableG + t$unmarketableG, t$grossAreaCm2, 10, yields),
    hoursPerBed = per(t$minutesWithoutHarvest, t$bedAreaCm2, 10000 / 60, hours),
    hoursPerKg = per(minutes, t$marketableG, 1000 / 60, if (hours != "") "weeks open" else yields),
    costPerKg = per(t$cashMinor, t$marketableG, 1000, if (yields != "") yields else costs),
    costPerBed = per(t$cashMinor, t$bedAreaCm2, 10000, costs),
    lostArea = per(t$lostAreaPermille, t$plantedAreaCm2, 1 / 1000, yields))
}
for (method in compared) {
  t <- as.list(sums[method, ])
  answer("totals", name_of(method), t)
  own <- figures_of(t)
  unknown <- setdiff(figures, names(own))
  if (length(unknown) > 0) stop("This script does not count: ", paste(unknown, collapse = ", "), call. = FALSE)
  answer("methods", name_of(method), lapply(own[figures], `[[`, 1), vapply(own[figures], `[[`, "", 2))
}

# Person-hours per m2 of bed by task; and of all of them those of establishing.
for (method in methods$method) {
  under <- vapply(seq_len(nrow(labour)), function(l) {
    if (!labour$season[l] %in% counted) return(NA_real_)
    on <- intersect(which(lies[[labour$season[l]]] == method), falls_at[[l]])
    if (length(on) == 0) NA_real_ else sum(minutes_on[on, l])
  }, 0)
  if (all(is.na(under))) next
  per_m2 <- function(which) sum(under[which], na.rm = TRUE) / sums[method, "bedAreaCm2"] * 10000 / 60
  for (task in unique(labour$task[!is.na(under)])) answer("labour", c(name_of(method), task),
      list(hours = per_m2(labour$task == task)))
  answer("labour", c(name_of(method), "all"), list(hours = per_m2(TRUE),
      establishing = per_m2(labour$phase == "establishing")))
}
