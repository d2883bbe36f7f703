# --- What open weeks could still hold at most.
# What open weeks could still hold: closed weeks within three calendar weeks, of any year, speak for an open
# one.
near <- function(all, week) {
  apart <- abs(as.numeric(substr(all, 7, 8)) - as.numeric(substr(week, 7, 8)))
  all[all != week & pmin(apart, 52 - apart) <= 3]
}
closed_for <- function(garden, what) closings$week[closings$garden == garden & closings$what == what]
stood <- function(p) {
  one <- plantings[p, ]; s <- one$season
  if (is.na(one$stood_from)) return(character(0))
  ends <- min(one$stood_to, seasons$ends_on[seasons$season == s], na.rm = TRUE)
  weeks[[s]]$week[weeks[[s]]$monday <= as.Date(ends) & weeks[[s]]$monday + 7 > as.Date(one$stood_from)]
}
standing_kept <- new.env()
weeks_standing <- function(p) {
  key <- as.character(p)
  if (is.null(standing_kept[[key]])) assign(key, stood(p), envir = standing_kept)
  standing_kept[[key]]
}
entered <- function(p, week, column)
  sum(harvests[[column]][harvests$planting == plantings$planting[p] & harvests$week == week])

# The plantings of one method with the most that their open weeks may hold; NULL where fewer than five
# closed weeks are near. Those of matched sets, or all that were grown for harvest; in all beds or some.
at_most <- function(method, in_seasons, meant = !is.na(plantings$matched_set), within = beds$bed) {
  all <- plantings; open_weeks <- 0
  here <- plantings$method %in% method & plantings$bed %in% within
  for (p in which(plantings$season %in% in_seasons & meant & here)) {
    garden <- plantings$garden[p]
    closed <- closed_for(garden, "weights")
    open <- setdiff(weeks_standing(p), closed)
    if (length(open) == 0) next
    alike <- plantings$crop == plantings$crop[p] & plantings$establishing == plantings$establishing[p]
    kin <- which(alike & plantings$garden == garden & here)
    for (week in open) {
      given <- do.call(rbind, lapply(kin, function(k) {
        known <- intersect(weeks_standing(k), near(intersect(weeks[[plantings$season[k]]]$week, closed), week))
        if (length(known) > 0) data.frame(week = known,
          good = vapply(known, function(w) entered(k, w, "marketable_g"), 0) / plantings$area_cm2[k],
          bad = vapply(known, function(w) entered(k, w, "unmarketable_g"), 0) / plantings$area_cm2[k])
      }))
      if (length(unique(given$week)) < 5) return(NULL)
      more <- function(most, column) max(0, half_up(plantings$area_cm2[p] * most) - entered(p, week, column))
      all$good[p] <- all$good[p] + more(max(given$good), "marketable_g")
      all$bad[p] <- all$bad[p] + more(max(given$bad), "unmarketable_g")
      open_weeks <- open_weeks + 1
    }
  }
  list(plantings = all, open = open_weeks)
}

# Minutes that the open weeks of a method in a season may hold beyond what is entered: each at the most of those
# near it; of work on the ground, or of all work. NULL where fewer than five closed weeks are near.
hours_added <- function(s, method, kinds, within = beds$bed) {
  high <- 0; open_weeks <- 0
  lies_in <- function(season, garden) which(beds$garden == garden & lies[[season]] == method & beds$bed %in% within)
  for (garden in unique(beds$garden[which(lies[[s]] == method & beds$bed %in% within)])) {
    closed <- closed_for(garden, "hours")
    here <- lapply(seasons$season, lies_in, garden)
    work <- which(labour$kind %in% kinds & !is.na(labour$week))
    in_week <- vapply(work, function(l) sum(minutes_on[here[[match(labour$season[l], seasons$season)]], l]), 0)
    minutes <- function(week) sum(in_week[labour$week[work] == week])
    for (week in setdiff(weeks[[s]]$week, closed)) {
      known <- unlist(lapply(which(lengths(here) > 0), function(i) near(intersect(weeks[[i]]$week, closed), week)))
      if (length(known) < 5) return(NULL)
      high <- high + max(minutes(week), vapply(known, minutes, 0)) - minutes(week)
      open_weeks <- open_weeks + 1
    }
  }
  c(high = high, open = open_weeks)
}
# Hours or cost of a place with its open weeks: the least spent on the most that was grown, and the most on the
# least. `t` holds its sums in that season.
bounds_of <- function(t, s, method, key, within = beds$bed) {
  kinds <- c("ground", "compost", if (key == "hoursPerKg") "harvest")
  hours <- if (key == "costPerKg") c(high = 0, open = 0) else hours_added(s, method, kinds, within)
  if (is.null(hours)) return(NULL)
  spent_then <- spent(t, key)
  if (key == "hoursPerBed") return(c(low = spent_then, high = spent_then + hours[["high"]],
    open = hours[["open"]]) / c(t[["bedAreaCm2"]], t[["bedAreaCm2"]], 1))
  weights <- at_most(method, s, plantings$purpose == "harvest", within)
  if (is.null(weights)) return(NULL)
  added <- sum(weights$plantings$good - plantings$good)
  c(low = spent_then / (t[["marketableG"]] + added), high = (spent_then + hours[["high"]]) / t[["marketableG"]],
    open = hours[["open"]] + weights$open)
}
