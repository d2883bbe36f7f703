# --- Holds what was counted beside the figures of the report, and says how far they are apart.
answers <- do.call(rbind, answers)
write.csv(answers, stdout(), row.names = FALSE, na = "")

# The report's own figures beside these. A name that stands twice is told apart by the order of its figures.
said_in <- function(table) {
  said <- read_table(paste0(".csv?table=", table), paste0("figures-", table, ".csv"))
  if (table == "matched-crops") said <- said[, c("crop", "method", "unit", "value")]
  of <- setdiff(names(said), c("unit", "value", "numerator", "denominator", "limit"))
  limit <- if ("limit" %in% names(said)) ifelse(is.na(said$limit), "", said$limit) else rep("", nrow(said))
  data.frame(table = rep(table, nrow(said)), of = do.call(paste, c(lapply(said[of], as.character), sep = " | ")),
      value = as.numeric(said$value), limit = limit)
}
one_by_one <- function(figures) {
  figures <- figures[order(figures$table, figures$of, figures$value), ]
  figures$of <- make.unique(paste(figures$table, figures$of, sep = " | "), sep = " #")
  figures
}
theirs <- do.call(rbind, lapply(tables, said_in))
# What these rows cannot give, and why.
not_counted <- list(
  c("^ground \\| garden \\| .* \\| writers$", "how many people wrote hours down: the rows do not say who did"),
  c("\\| changedAfterClosing$",
    "entries changed after closing: the rows are the record as it stands, without its history"),
  c("\\| sealedWeighings$",
    "weighings under a label that is still sealed: the rows leave them out, as every figure does"))
mine <- one_by_one(answers[answers$table %in% tables, ]); theirs <- one_by_one(theirs)
left_out <- 0
for (one in not_counted) {
  out <- grepl(one[1], theirs$of)
  if (any(out)) message("Not counted again (", sum(out), "): ", one[2], ".")
  left_out <- left_out + sum(out); theirs <- theirs[!out, ]
}
both <- merge(mine, theirs, by = c("table", "of"), all = TRUE, suffixes = c("", ".theirs"))
# Of a figure under a thousandth of its unit the difference is held against that: parts of a gap may cancel
# to nothing.
both$apart <- abs(both$value - both$value.theirs) / pmax(abs(both$value.theirs), 1e-3)
both$apart[is.na(both$value) & is.na(both$value.theirs)] <- 0
both$unlike <- is.na(both$limit) | is.na(both$limit.theirs) | is.na(both$apart)
both$unlike[!both$unlike] <- (both$limit != both$limit.theirs)[!both$unlike]
# The model of single plantings is found by a search, here and in the report: it cannot be alike to the last
# digit.
searched <- grepl("| single plantings |", both$of, fixed = TRUE)
wrong <- both$unlike | both$apart > ifelse(searched, 1e-4, 1e-9)
most <- function(apart) format(max(0, apart, na.rm = TRUE), digits = 2)
for (table in tables) {
  own <- both$table == table
  message(table, ": ", sum(own), " figures counted again; largest difference ", most(both$apart[own & !searched]),
      " of the figure; ",
    sum(both$unlike[own]), " missing or limited otherwise.")
  if (any(own & searched)) message("  Of these ", sum(own & searched),
      " come from a search (the model of single plantings) and may differ by 1e-4;",
      " the largest difference of them is ",
    most(both$apart[own & searched]), ".")
}
for (i in utils::head(which(wrong), 20)) message("  ", both$of[i], ": ", format(both$value[i], digits = 12),
    " by the rows, ",
  format(both$value.theirs[i], digits = 12), " in the report.")
message(nrow(both), " figures counted again; ", sum(wrong), " unlike the report; ", left_out, " not counted.")
if (any(wrong)) quit(status = 1)
