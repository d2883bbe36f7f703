import { harvestTasks } from '../diary/tasks.ts'

export interface ScriptAsked {
  /** The address of the report, or of the folder that its files were saved in. */
  readonly from: string
  /** What names the edition at the end of each address; empty for the latest. */
  readonly query: string
  /** The season's id; null for all of them. */
  readonly season: string | null
}

/**
 * A script in R without packages that reads the rows behind a report, counts every figure of its table of measures and of
 * its matched crops again, and says how far the report's own figures are from that. It shares no line with the service.
 */
export function recomputeScript({ from, query, season }: ScriptAsked): string {
  const settings = [
    `from <- ${JSON.stringify(from)}`,
    `query <- ${JSON.stringify(query)}`,
    `season <- ${season === null ? 'NA' : JSON.stringify(season)}`,
    `harvest_tasks <- c(${harvestTasks.map((task) => JSON.stringify(task)).join(', ')})`,
  ]
  return `${head}${settings.join('\n')}\n${body}`
}

const head = `# Counts the figures of one report again from the rows behind it. Needs R alone.
#   Rscript recompute.R            reads from the address below
#   Rscript recompute.R FOLDER     reads seasons.csv, harvests.csv, ... and figures-methods.csv, figures-matched-crops.csv there
`

const body = `
folder <- commandArgs(TRUE)
read_table <- function(path, file) {
  source <- if (length(folder) > 0) file.path(folder[1], file) else paste0(from, path, query)
  read.csv(source, na.strings = "", stringsAsFactors = FALSE, check.names = FALSE, encoding = "UTF-8")
}
# Whole numbers as doubles: products of areas and minutes are larger than R's integers.
rows <- function(name) {
  table <- read_table(paste0("/rows.csv?table=", name), paste0(name, ".csv"))
  for (column in names(table)) if (is.integer(table[[column]])) table[[column]] <- as.numeric(table[[column]])
  table
}
seasons <- rows("seasons"); methods <- rows("methods"); gardens <- rows("gardens"); beds <- rows("beds")
assignments <- rows("assignments"); plantings <- rows("plantings"); harvests <- rows("harvests"); losses <- rows("losses")
labour <- rows("labour"); spreadings <- rows("spreadings"); closings <- rows("closings")
counted <- if (is.na(season)) seasons$season else season

# Whole parts that add up to the total: the largest remainders have what is left, of equal ones the first.
split_exactly <- function(total, weights) {
  whole <- sum(weights)
  if (length(weights) == 0 || whole == 0) return(rep(0, length(weights)))
  rest <- (total * weights) %% whole
  part <- (total * weights - rest) / whole
  left <- total - sum(part)
  if (left > 0) { first <- order(-rest, seq_along(rest))[seq_len(left)]; part[first] <- part[first] + 1 }
  part
}

# The method of each bed in a season: its own before its garden's.
methods_of <- function(s) {
  here <- assignments[assignments$season == s, ]
  own <- here[!is.na(here$bed), ]; whole <- here[is.na(here$bed), ]
  of_bed <- own$method[match(beds$bed, own$bed)]
  ifelse(is.na(of_bed), whole$method[match(beds$garden, whole$garden)], of_bed)
}
# The ISO weeks whose Thursday lies in the season.
weeks_of <- function(s) {
  at <- seasons[seasons$season == s, ]
  days <- seq(as.Date(at$starts_on), as.Date(at$ends_on), by = "day")
  format(days[format(days, "%u") == "4"], "%G-W%V")
}
kinds <- c("gardens", "bed", "gross", "planted", "lost", "good", "bad", "ground_minutes", "crop_minutes", "cost", "unpriced",
  "standing", "weeks", "hours_closed", "weights_closed")
sums <- matrix(0, nrow(methods), length(kinds), dimnames = list(methods$method, kinds))
add <- function(method, kind, amount) if (!is.na(method)) sums[method, kind] <<- sums[method, kind] + amount
add_over <- function(on, total, kind, method_of) {
  at <- which(beds$bed %in% on)
  parts <- split_exactly(total, beds$area_cm2[at])
  for (i in seq_along(at)) add(method_of[at[i]], kind, parts[i])
}
good_of <- function(id) sum(harvests$marketable_g[harvests$planting %in% id])
bad_of <- function(id) sum(harvests$unmarketable_g[harvests$planting %in% id])
lost_of <- function(id) {
  left <- 1000
  for (share in losses$share_permille[losses$planting %in% id]) left <- floor(left * (1000 - share) / 1000 + 0.5)
  1000 - left
}

for (s in counted) {
  method_of <- methods_of(s)
  weeks <- weeks_of(s)
  for (g in seq_len(nrow(gardens))) {
    at <- which(beds$garden == gardens$garden[g])
    gross <- split_exactly(gardens$gross_area_cm2[g], beds$area_cm2[at])
    for (i in seq_along(at)) { add(method_of[at[i]], "bed", beds$area_cm2[at[i]]); add(method_of[at[i]], "gross", gross[i]) }
    shut <- closings[closings$garden == gardens$garden[g] & closings$week %in% weeks, ]
    for (method in unique(method_of[at][!is.na(method_of[at])])) {
      add(method, "gardens", 1); add(method, "weeks", length(weeks))
      add(method, "hours_closed", sum(shut$what == "hours")); add(method, "weights_closed", sum(shut$what == "weights"))
    }
  }
  grown <- plantings[plantings$season == s & plantings$purpose == "harvest", ]
  for (p in seq_len(nrow(grown))) {
    one <- grown[p, ]; method <- method_of[match(one$bed, beds$bed)]
    add(method, "planted", one$area_cm2); add(method, "good", good_of(one$planting)); add(method, "bad", bad_of(one$planting))
    add(method, "standing", 1 - one$cleared); add(method, "lost", one$area_cm2 * lost_of(one$planting))
  }
  worked <- labour[labour$season == s, ]
  for (l in seq_len(nrow(worked))) {
    one <- worked[l, ]
    on <- if (!is.na(one$garden)) beds$bed[beds$garden == one$garden] else one$bed
    add_over(on, one$person_minutes, if (one$task %in% harvest_tasks) "crop_minutes" else "ground_minutes", method_of)
  }
  for (k in seq_len(nrow(spreadings))) {
    one <- spreadings[k, ]; age <- match(s, seasons$season) - match(one$season, seasons$season)
    if (age < 0 || age >= one$useful_life_seasons) next
    on <- strsplit(one$beds, " ", fixed = TRUE)[[1]]
    if (is.na(one$cost_minor)) {
      for (method in unique(method_of[beds$bed %in% on])) add(method, "unpriced", 1)
    } else add_over(on, split_exactly(one$cost_minor, rep(1, one$useful_life_seasons))[age + 1], "cost", method_of)
  }
}

answers <- data.frame()
answer <- function(what, row, method, value, limit) {
  answers <<- rbind(answers, data.frame(what = what, row = row, method = method, value = value, limit = limit))
}
compared <- methods$method[sums[, "gardens"] > 0]
name_of <- function(method) methods$name[match(method, methods$method)]
for (method in compared) {
  t <- as.list(sums[method, ])
  yields <- if (t$standing > 0 || t$weights_closed < t$weeks) "so far" else ""
  hours <- if (t$hours_closed < t$weeks) "at least" else ""
  costs <- if (t$unpriced > 0) "at least" else ""
  figure <- function(key, over, under, factor, limit)
    answer("figure", key, name_of(method), if (under == 0) NA else over / under * factor, limit)
  figure("marketablePerBed", t$good, t$bed, 10, yields)
  figure("allPerBed", t$good + t$bad, t$bed, 10, yields)
  figure("marketablePerGross", t$good, t$gross, 10, yields)
  figure("allPerGross", t$good + t$bad, t$gross, 10, yields)
  figure("hoursPerBed", t$ground_minutes, t$bed, 10000 / 60, hours)
  figure("hoursPerKg", t$ground_minutes + t$crop_minutes, t$good, 1000 / 60, if (hours != "") "weeks open" else yields)
  figure("costPerKg", t$cost, t$good, 1000, if (yields != "") yields else costs)
  figure("costPerBed", t$cost, t$bed, 10000, costs)
  figure("lostArea", t$lost, t$planted, 1 / 1000, yields)
}

# Cultivars that stood under every method of a season and are all cleared; summed over the seasons.
sets <- data.frame()
for (s in counted) {
  one <- plantings[plantings$season == s & plantings$purpose == "harvest" & !is.na(plantings$matched_set), ]
  if (nrow(one) == 0) next
  one$method <- methods_of(s)[match(one$bed, beds$bed)]
  one <- one[one$method %in% compared, ]
  for (set in unique(one$matched_set)) {
    own <- one[one$matched_set == set, ]
    if (length(compared) < 2 || !all(compared %in% own$method) || any(own$cleared == 0)) next
    own$name <- paste0(own$crop[1], ", ", own$cultivar[1])
    own$good <- vapply(own$planting, good_of, 0)
    sets <- rbind(sets, own[, c("name", "method", "area_cm2", "good")])
  }
}
if (nrow(sets) > 0) {
  of_crop <- aggregate(sets[, c("area_cm2", "good")], sets[, c("name", "method")], sum)
  of_crop$rate <- 10 * of_crop$good / of_crop$area_cm2
  area <- tapply(of_crop$area_cm2, of_crop$name, sum)
  for (i in seq_len(nrow(of_crop))) answer("matched", of_crop$name[i], name_of(of_crop$method[i]), of_crop$rate[i], "")
  for (method in compared) {
    own <- of_crop[of_crop$method == method, ]
    answer("matched", "common mix", name_of(method), sum(area[own$name] / sum(area) * own$rate), "")
  }
}
write.csv(answers, stdout(), row.names = FALSE, na = "")

# The report's own figures beside these.
said <- read_table(".csv?table=methods", "figures-methods.csv")
crops <- read_table(".csv?table=matched-crops", "figures-matched-crops.csv")
theirs <- rbind(
  data.frame(what = rep("figure", nrow(said)), row = said$figure, method = said$method, theirs = said$value,
    their_limit = ifelse(is.na(said$limit), "", said$limit)),
  data.frame(what = rep("matched", nrow(crops)), row = crops$crop, method = crops$method, theirs = crops$value,
    their_limit = rep("", nrow(crops))))
both <- merge(answers, theirs, all = TRUE)
apart <- max(0, abs(both$value - both$theirs), na.rm = TRUE)
unlike <- sum(is.na(both$value) != is.na(both$theirs) | is.na(both$limit) | is.na(both$their_limit) | both$limit != both$their_limit, na.rm = TRUE)
message(nrow(both), " figures counted again; largest difference ", format(apart), "; ", unlike, " missing or limited otherwise.")
if (apart > 1e-9 || unlike > 0 || nrow(both) != nrow(theirs)) quit(status = 1)
`
