# --- Reads the rows: ground, weeks, plantings with what came off them, and minutes on every bed.
folder <- commandArgs(TRUE)
# How sure each method's interval is beside the reference; one level for all where none is named.
levels <- if (length(level_of) == length(level_values)) setNames(level_values, level_of) else level_values
level <- levels[[1]]
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
# Rows that were frozen earlier may lack these columns.
rows_with <- function(name, ...) {
  table <- rows(name)
  for (column in setdiff(c(...), names(table))) table[[column]] <- rep(NA, nrow(table))
  table
}
seasons <- rows_with("seasons", "uniform"); methods <- rows_with("methods", "establishing_seasons")
# A garden and a bed have a row for each area that they had, with the day from which it held; no day: from the first.
garden_areas <- rows_with("gardens", "site", "from_day"); bed_areas <- rows_with("beds", "block", "from_day", "lay_cm2")
gardens <- garden_areas[!duplicated(garden_areas$garden), ]; beds <- bed_areas[!duplicated(bed_areas$bed), ]
assignments <- rows_with("assignments", "year_of_method", "phase")
plantings <- rows_with("plantings", "stood_from", "stood_to", "touches_soil", "establishing")
harvests <- rows_with("harvests", "season", "week", "from_paper", "late")
losses <- rows_with("losses", "also_next_door"); labour <- rows_with("labour", "planting", "people", "from_paper",
    "late", "by_rule", "beds", "written_for")
spreadings <- rows_with("spreadings", "valued_minor", "phase", "planting", "by_rule"); closings <- rows("closings")
counted <- if (is.na(season)) seasons$season else season
season_name <- function(s) seasons$name[match(s, seasons$season)]
name_of <- function(method) methods$name[match(method, methods$method)]

# Every figure that is counted here: its table, what it is of, and the figure. What has none is left out,
# but for the measures.
answers <- list()
answer <- function(table, of, figures, limits = rep("", length(figures))) {
  for (i in seq_along(figures)) if (table == "methods" || !is.na(figures[[i]]))
    answers[[length(answers) + 1]] <<- data.frame(table = table, of = paste(c(of, names(figures)[i]),
        collapse = " | "),
      value = figures[[i]], limit = limits[[i]])
}

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
half_up <- function(x) floor(x + 0.5)

# The area of each of some pieces of ground over a season, in whole cm2: the mean of its days. 0 is ground given up.
area_over <- function(s, ids, of, from_day, area) {
  at <- seasons[seasons$season == s, ]
  days <- as.numeric(seq(as.Date(at$starts_on), as.Date(at$ends_on), by = "day"))
  from <- as.numeric(as.Date(from_day)); from[is.na(from)] <- -Inf
  vapply(ids, function(id) {
    own <- which(of == id); own <- own[order(from[own])]
    half_up(sum(c(0, area[own])[findInterval(days, from[own]) + 1]) / length(days))
  }, 0, USE.NAMES = FALSE)
}
bed_area <- sapply(seasons$season, area_over, beds$bed, bed_areas$bed, bed_areas$from_day, bed_areas$area_cm2,
  simplify = FALSE)
# As the beds lay in their gardens; where a nursery raised for others, figures count its ground with those.
lay_area <- if (all(is.na(bed_areas$lay_cm2))) bed_area else
  sapply(seasons$season, area_over, beds$bed, bed_areas$bed, bed_areas$from_day, bed_areas$lay_cm2, simplify = FALSE)
gross_area <- sapply(seasons$season, area_over, gardens$garden, garden_areas$garden, garden_areas$from_day,
  garden_areas$gross_area_cm2, simplify = FALSE)

# The method of each bed that had ground in a season: its own before its garden's.
methods_of <- function(s) {
  here <- assignments[assignments$season == s, ]
  own <- here[!is.na(here$bed), ]; whole <- here[is.na(here$bed), ]
  of_bed <- own$method[match(beds$bed, own$bed)]
  found <- ifelse(is.na(of_bed), whole$method[match(beds$garden, whole$garden)], of_bed)
  ifelse(bed_area[[s]] > 0, found, NA)
}
lies <- sapply(seasons$season, methods_of, simplify = FALSE)

# The ISO weeks whose Thursday lies in the season, by their Mondays.
weeks_of <- function(s) {
  at <- seasons[seasons$season == s, ]
  days <- seq(as.Date(at$starts_on), as.Date(at$ends_on), by = "day")
  thursdays <- days[format(days, "%u") == "4"]
  data.frame(week = format(thursdays, "%G-W%V"), monday = thursdays - 3)
}
weeks <- sapply(seasons$season, weeks_of, simplify = FALSE)

grown_then <- plantings$season[match(harvests$planting, plantings$planting)]
harvests$season <- ifelse(is.na(harvests$season), grown_then, harvests$season)
plantings$garden <- beds$garden[match(plantings$bed, beds$bed)]
# What stands over seasons and does not bear yet is a crop apart.
plantings$establishing <- plantings$establishing %in% 1
plantings$name <- paste0(plantings$crop, ", ", plantings$cultivar, ifelse(plantings$establishing, ", establishing", ""))
sum_by <- function(amount, by, keys) {
  if (length(amount) == 0) return(rep(0, length(keys)))
  sums <- rowsum(amount, by)
  found <- match(keys, rownames(sums))
  ifelse(is.na(found), 0, sums[found])
}
plantings$good <- sum_by(harvests$marketable_g, harvests$planting, plantings$planting)
plantings$bad <- sum_by(harvests$unmarketable_g, harvests$planting, plantings$planting)
plantings$method <- character(nrow(plantings))
for (i in seq_len(nrow(plantings)))
  plantings$method[i] <- lies[[plantings$season[i]]][match(plantings$bed[i], beds$bed)]

# What each loss took of what still stood, in whole permille of the planting.
losses$took <- numeric(nrow(losses))
plantings$lost <- numeric(nrow(plantings))
for (p in unique(losses$planting)) {
  left <- 1000
  for (i in which(losses$planting == p)) {
    rest <- half_up(left * (1000 - losses$share_permille[i]) / 1000)
    losses$took[i] <- left - rest; left <- rest
  }
  plantings$lost[plantings$planting == p] <- 1000 - left
}

# Minutes of every entry (columns) on every bed (rows): what was written for a garden, over its beds by
# their area in the season in which it was done.
on_beds <- function(total, at, s) { parts <- numeric(nrow(beds)); parts[at] <- split_exactly(total,
    bed_area[[s]][at]); parts }
named_beds <- function(ids) which(beds$bed %in% strsplit(as.character(ids), " ", fixed = TRUE)[[1]])
# The ground that an entry was written for, and the part of it that a row falls on.
written_on <- function(one) if (!is.na(one$written_for)) named_beds(one$written_for) else if (is.na(one$garden))
  which(beds$bed == one$bed) else which(beds$garden == one$garden)
# Both by entry, found once: every pair and season asks for them again.
written_at <- lapply(seq_len(nrow(labour)), function(l) written_on(labour[l, ]))
falls_at <- lapply(seq_len(nrow(labour)), function(l) if (is.na(labour$beds[l])) written_at[[l]] else
  named_beds(labour$beds[l]))
minutes_on <- vapply(seq_len(nrow(labour)), function(l)
  on_beds(labour$person_minutes[l], falls_at[[l]], labour$season[l]), numeric(nrow(beds)))
labour$kind <- ifelse(labour$task %in% harvest_tasks, "harvest", ifelse(labour$task == "making compost", "compost",
    "ground"))
