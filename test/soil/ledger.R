# The nutrient ledger counted again from the rows of an export, with base R 4.2 and no line of the service.
# Rscript test/soil/ledger.R folder-of-csv : writes ledger.csv there. Sources of the constants: src/soil/published-make-up.ts.
folder <- commandArgs(trailingOnly = TRUE)[1]
rows <- function(name) {
  all <- read.csv(file.path(folder, paste0(name, ".csv")), colClasses = "character", na.strings = "", check.names = FALSE)
  names(all) <- sub("_(cm2|g|ml|mg|minor)$", "", names(all))
  if ("removed_at" %in% names(all)) all <- all[is.na(all$removed_at), , drop = FALSE]
  all
}
number <- as.numeric
seasons <- rows("seasons"); seasons <- seasons[order(seasons$starts_on), ]
gardens <- rows("gardens"); beds <- rows("beds"); plantings <- rows("plantings"); crops <- rows("crops")
plantings$crop_id <- setNames(rows("cultivars")$crop_id, rows("cultivars")$id)[plantings$cultivar_id]
inputs <- rows("inputs"); loads <- rows("deliveries"); spread <- rows("applications")
harvests <- rows("harvests"); shares <- rows("harvest_shares")
stopifnot(nrow(rows("bed_areas")) == 0)
# Words of the group's own that were weighed, and hay as common figures have it where the group has no analysis.
measures <- rows("measures")
kg_of <- setNames(number(measures$mass) / 1000, tolower(measures$name))
hay <- c(dry = .86, nitrogen = 15, phosphorus = 5.9 * 2 * 30.973761998 / 141.9445, potassium = 18 * 2 * 39.0983 / 94.1960)

# What was spread: thousandths of a m3, kg or bale of its input, its nutrients in dry matter.
spread <- merge(spread, loads[c("id", "input_id")], by.x = "delivery_id", by.y = "id")
spread <- merge(spread, inputs[c("id", "name", "kind", "unit", "raw_manure", "moisture_permille", "density_kg_per_m3",
  "nitrogen_mg_per_kg", "phosphorus_mg_per_kg", "potassium_mg_per_kg")], by.x = "input_id", by.y = "id")
spread <- spread[spread$kind %in% c("compost", "manure", "mulch", "amendment"), ]
amount <- number(spread$quantity_thousandths) / 1000
fresh_kg <- ifelse(spread$unit == "kg", amount, ifelse(spread$unit == "m3", amount * number(spread$density_kg_per_m3),
  amount * kg_of[tolower(spread$unit)]))
is_hay <- is.na(spread$nitrogen_mg_per_kg) & grepl("\\bhay\\b", tolower(spread$name))
dry_kg <- fresh_kg * ifelse(is_hay & is.na(spread$moisture_permille), hay[["dry"]], 1 - number(spread$moisture_permille) / 1000)
content_of <- function(nutrient) {
  own <- number(spread[[paste0(nutrient, "_mg_per_kg")]])
  ifelse(is_hay, round(1000 * hay[[nutrient]] / hay[["dry"]]), own)
}
bed_garden <- setNames(beds$garden_id, beds$id)
garden_of <- function(r) ifelse(!is.na(r$garden_id), r$garden_id, bed_garden[r$bed_id])
spread$garden <- garden_of(spread)

# What was weighed, crates by the area of their plantings or as given; composition in mg a 100 g.
own <- harvests[!is.na(harvests$planting_id) & harvests$counts == "1", c("planting_id", "season_id", "marketable", "unmarketable")]
own$part <- 1
crates <- merge(harvests[is.na(harvests$planting_id) & harvests$counts == "1", c("id", "season_id", "share_rule", "marketable", "unmarketable")],
  shares[c("harvest_id", "planting_id", "share")], by.x = "id", by.y = "harvest_id")
if (nrow(crates) > 0) {
  area <- number(setNames(plantings$area, plantings$id)[crates$planting_id])
  weight <- ifelse(crates$share_rule == "given", number(crates$share), area)
  crates$part <- weight / ave(weight, crates$id, FUN = sum)
  own <- rbind(own, crates[c("planting_id", "season_id", "marketable", "unmarketable", "part")])
}
own$grams <- (number(own$marketable) + number(own$unmarketable)) * own$part
own <- merge(own, plantings[c("id", "bed_id", "crop_id")], by.x = "planting_id", by.y = "id")
own <- merge(own, crops[c("id", "protein_mg_per_100g", "phosphorus_mg_per_100g", "potassium_mg_per_100g")], by.x = "crop_id", by.y = "id")
own$garden <- bed_garden[own$bed_id]

content <- list(nitrogen = content_of("nitrogen"), phosphorus = content_of("phosphorus"), potassium = content_of("potassium"))
in_food <- list(nitrogen = number(own$protein_mg_per_100g) / 6.25, phosphorus = number(own$phosphorus_mg_per_100g),
  potassium = number(own$potassium_mg_per_100g))
found_in <- function(nutrient, kind, raw, after) {
  course <- if (nutrient == "phosphorus") c(.7, .2, .06) else if (nutrient == "potassium") .9
    else if (kind == "compost" || (kind == "manure" && raw == "0")) c(.12, .07, .04)
    else if (kind == "manure") c(.25, .13, .06) else c(.1, .1, .05)
  if (after < length(course)) course[after + 1] else 0
}

result <- NULL
for (g in seq_len(nrow(gardens))) for (nutrient in names(content)) {
  gathered <- 0
  for (s in seq_len(nrow(seasons))) {
    here <- beds$garden_id == gardens$id[g]
    area <- sum(number(beds$area[here]))
    mg <- dry_kg * number(content[[nutrient]])
    now <- spread$garden == gardens$id[g] & spread$season_id == seasons$id[s]
    after <- s - match(spread$season_id, seasons$id)
    past <- which(spread$garden == gardens$id[g] & after >= 0)
    brought <- sum(mg[now])
    found <- sum(vapply(past, function(i) mg[i] * found_in(nutrient, spread$kind[i], spread$raw_manure[i], after[i]), 0))
    picked <- own$garden == gardens$id[g] & own$season_id == seasons$id[s]
    taken <- sum(own$grams[picked] * in_food[[nutrient]][picked] / 100)
    gathered <- gathered + (brought - taken) * 10000 / area
    result <- rbind(result, data.frame(garden = gardens$name[g], season = seasons$name[s], nutrient, area, brought, found, taken, gathered))
  }
}
write.csv(result, file.path(folder, "ledger.csv"), row.names = FALSE, na = "")
