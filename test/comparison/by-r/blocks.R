# Blocks of beds, and gardens split in halves, in one mixed model of single plantings: R 4.2.2, lme4 1.1-31,
# lmerTest 3.1-3, pbkrtest 0.5.2. Rscript test/comparison/by-r/blocks.R > test/comparison/by-r/blocks.json
# Made up: weights in grams off 1 m2, two crops on every bed; drawn once with this seed.
suppressMessages(library(lmerTest))
RNGversion("4.2.0"); set.seed(27)
grow <- function(holders, crops, gap) {
  d <- expand.grid(crop = paste0("c", seq_len(crops)), method = c("A", "B"), holder = seq_len(holders),
    stringsAsFactors = FALSE)
  ground <- rnorm(holders, 0, 0.25); place <- rnorm(2 * holders, 0, 0.12)
  d$grams <- round(3000 * exp(ground[d$holder] + place[2 * d$holder - (d$method == "A")] + gap * (d$method == "B") +
    0.3 * (d$crop == "c2") + rnorm(nrow(d), 0, 0.1)))
  d
}
model <- function(d, random) {
  d$holder <- factor(d$holder); d$place <- paste(d$holder, d$method)
  m <- lmer(as.formula(paste("log(grams / 1000) ~ crop + method +", random)), d)
  row <- function(ddf) { one <- coef(summary(m, ddf = ddf))["methodB", ]; unname(one[c("Estimate", "Std. Error", "df")]) }
  list(random = random, grams = d$grams, satterthwaite = row("Satterthwaite"), kenwardRoger = row("Kenward-Roger"),
    sd = setNames(as.data.frame(VarCorr(m))$sdcor, as.data.frame(VarCorr(m))$grp))
}
all <- list(
  "five blocks" = c(model(grow(5, 2, 0.18), "(1 | holder) + (1 | place)"), holders = 5),
  "four blocks, fixed" = c(model(grow(4, 2, 0.18), "holder + (1 | place)"), holders = 4),
  "six split gardens" = c(model(grow(6, 2, -0.1), "(1 | holder) + (1 | place)"), holders = 6))
number <- function(x) paste0("[", paste(format(x, digits = 12), collapse = ", "), "]")
said <- function(name) { one <- all[[name]]
  sprintf('  "%s": {\n    "holders": %d,\n    "grams": %s,\n    "satterthwaite": %s,\n    "kenwardRoger": %s,\n    "sd": {%s}\n  }',
    name, one$holders, number(one$grams), number(one$satterthwaite), number(one$kenwardRoger),
    paste(sprintf('"%s": %.10f', names(one$sd), one$sd), collapse = ", ")) }
cat("{\n", paste(vapply(names(all), said, ""), collapse = ",\n"), "\n}\n", sep = "")
