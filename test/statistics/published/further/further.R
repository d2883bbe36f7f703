# Expected figures for further public datasets, from R: reads the csv files beside it and writes further.json.
# Run from this folder: Rscript further.R
# Each csv is first held against the copy that R or one of its packages carries. Primary sources stand in sources.md.
suppressMessages({
  library(lme4); library(lmerTest); library(pbkrtest); library(nlme); library(MASS)
  library(metafor); library(multcomp); library(jsonlite)
})
options(contrasts = c("contr.treatment", "contr.poly"), digits = 17)

read <- function(name, factors = character()) {
  data <- read.csv(paste0(name, ".csv"))
  for (one in factors) data[[one]] <- factor(data[[one]], levels = unique(data[[one]]))
  data
}
held <- function(data, given, columns = names(data)) {
  for (one in columns) stopifnot(all.equal(as.character(data[[one]]), as.character(given[[one]])))
}
rows <- function(frame) lapply(split(frame, seq_len(nrow(frame))), as.list)
named <- function(frame) setNames(lapply(seq_len(nrow(frame)), function(i) as.list(frame[i, , drop = FALSE])), rownames(frame))

linear <- function(model) {
  table <- as.data.frame(anova(model))
  names(table) <- c("df", "ss", "ms", "f", "p")
  coefficients <- as.data.frame(summary(model)$coefficients)
  names(coefficients) <- c("estimate", "se", "t", "p")
  list(table = named(table), coefficients = named(coefficients))
}
tukey <- function(model, term) {
  pairs <- as.data.frame(TukeyHSD(model, term)[[term]])
  names(pairs) <- c("difference", "low", "high", "p")
  named(pairs)
}
# The least difference and the standard error of a difference of two means of n plots each.
differences <- function(ms, df, n, mean) {
  sed <- sqrt(2 * ms / n)
  list(sed = sed, lsd = qt(0.975, df) * sed, cv = 100 * sqrt(ms) / mean)
}
mixed <- function(formula, data) {
  tight <- lmerControl(optimizer = "bobyqa", optCtrl = list(rhoend = 1e-10, maxfun = 1e5), check.conv.singular = "ignore")
  model <- lmerTest::lmer(formula, data = data, REML = TRUE, control = tight)
  variances <- as.data.frame(VarCorr(model))
  coefficients <- function(ddf) {
    out <- as.data.frame(summary(model, ddf = ddf)$coefficients)
    names(out) <- c("estimate", "se", "df", "t", "p")
    named(out)
  }
  singular <- isSingular(model, tol = 1e-5)
  list(
    variances = setNames(as.list(variances$vcov), sub("Residual", "residual", variances$grp)),
    criterion = REMLcrit(model), singular = singular,
    satterthwaite = coefficients("Satterthwaite"),
    kenwardRoger = if (singular) NULL else coefficients("Kenward-Roger")
  )
}
pooled <- function(yi, vi) {
  one <- function(method, test) {
    fit <- rma(yi, vi, method = method, test = test, control = list(threshold = 1e-12, maxiter = 10000, tol = 1e-12))
    list(estimate = fit$b[1], se = fit$se, low = fit$ci.lb, high = fit$ci.ub, tau2 = fit$tau2, q = fit$QE, i2 = fit$I2)
  }
  out <- list()
  for (method in c("REML", "DL", "PM")) {
    for (test in c("z", "knha", "adhoc")) out[[paste(method, test)]] <- one(method, test)
    z <- rma(yi, vi, method = method, control = list(threshold = 1e-12, maxiter = 10000, tol = 1e-12))
    ahead <- qt(0.975, length(yi) - 2) * sqrt(z$tau2 + z$se^2)
    out[[paste(method, "prediction")]] <- list(low = z$b[1] - ahead, high = z$b[1] + ahead)
  }
  out
}

found <- list(versions = list(R = paste(R.version$major, R.version$minor, sep = ".")))
for (one in c("lme4", "lmerTest", "pbkrtest", "nlme", "MASS", "metafor", "metadat", "multcomp"))
  found$versions[[one]] <- as.character(packageVersion(one))

litter <- read("genotype", c("Litter", "Mother")); held(litter, MASS::genotype)
found$genotype <- list(
  litterFirst = linear(lm(Wt ~ Litter + Mother, litter)),
  motherFirst = linear(lm(Wt ~ Mother + Litter, litter)),
  interaction = linear(lm(Wt ~ Litter * Mother, litter))
)

chicks <- read("chickwts", "feed"); held(chicks, datasets::chickwts)
fit <- aov(weight ~ feed, chicks)
found$chickwts <- list(model = linear(lm(weight ~ feed, chicks)), tukey = tukey(fit, "feed"),
  cv = 100 * sigma(fit) / mean(chicks$weight))

orchard <- read("orchardsprays", "treatment"); held(orchard, datasets::OrchardSprays)
for (one in c("rowpos", "colpos")) orchard[[one]] <- factor(orchard[[one]], levels = unique(orchard[[one]]))
square <- lm(decrease ~ rowpos + colpos + treatment, orchard)
blocks <- lm(decrease ~ rowpos + treatment, orchard)
found$orchardsprays <- list(
  square = linear(square), blocks = linear(blocks),
  blockDifferences = differences(sigma(blocks)^2, blocks$df.residual, 8, mean(orchard$decrease)),
  tukey = tukey(aov(decrease ~ rowpos + colpos + treatment, orchard), "treatment"),
  mixed = mixed(decrease ~ treatment + (1 | rowpos) + (1 | colpos), orchard)
)

plates <- read("detergent", c("detergent", "block")); held(plates, multcomp::detergent)
plates <- plates[!is.na(plates$plates), ]
found$detergent <- list(
  intra = linear(lm(plates ~ block + detergent, plates)),
  mixed = mixed(plates ~ detergent + (1 | block), plates)
)

hay <- read("alfalfa", c("Variety", "Date", "Block")); held(hay, as.data.frame(nlme::Alfalfa))
strata <- summary(aov(Yield ~ Variety * Date + Error(Block / Variety), hay))
tables <- lapply(strata, function(one) { t <- as.data.frame(one[[1]]); names(t)[1:3] <- c("df", "ss", "ms"); rownames(t) <- trimws(rownames(t)); t })
main <- tables[["Error: Block:Variety"]]; sub <- tables[["Error: Within"]]
rename <- function(t) { names(t) <- c("df", "ss", "ms", "f", "p")[seq_along(names(t))]; named(t) }
found$alfalfa <- list(
  block = rename(tables[["Error: Block"]]), main = rename(main), sub = rename(sub),
  mainDifferences = differences(main["Residuals", "ms"], main["Residuals", "df"], 24, mean(hay$Yield)),
  subDifferences = differences(sub["Residuals", "ms"], sub["Residuals", "df"], 18, mean(hay$Yield)),
  mixed = mixed(Yield ~ Variety + Date + (1 | Block) + (1 | Block:Variety), hay)
)

machines <- read("machines", c("Worker", "Machine")); held(machines, as.data.frame(nlme::Machines))
uneven <- machines[-c(2, 3, 6, 8, 9, 12, 19, 20, 27, 33), ]
found$machines <- list(
  whole = mixed(score ~ Machine + (1 | Worker) + (1 | Worker:Machine), machines),
  uneven = mixed(score ~ Machine + (1 | Worker) + (1 | Worker:Machine), uneven)
)

penicillin <- read("penicillin", c("plate", "sample")); held(penicillin, lme4::Penicillin)
gone <- seq(1, 144, by = 11)
found$penicillin <- list(
  whole = mixed(diameter ~ 1 + (1 | plate) + (1 | sample), penicillin),
  # Plates at random, samples as what is compared, fourteen readings lost.
  samples = mixed(diameter ~ sample + (1 | plate), penicillin[-gone, ])
)

pastes <- read("pastes", c("batch", "cask")); held(pastes, lme4::Pastes)
found$pastes <- mixed(strength ~ 1 + (1 | batch) + (1 | batch:cask), pastes)

cake <- read("cake", "recipe"); held(cake, lme4::cake)
for (one in c("replicate", "temp")) cake[[one]] <- factor(cake[[one]], levels = unique(cake[[one]]))
found$cake <- list(
  factor = mixed(angle ~ recipe + temp + (1 | replicate) + (1 | recipe:replicate), cake),
  slope = mixed(angle ~ recipe + t + (1 | replicate) + (1 | recipe:replicate),
    transform(cake, t = as.numeric(as.character(temp))))
)

dye <- read("dyestuff2", "Batch"); held(dye, lme4::Dyestuff2)
found$dyestuff2 <- mixed(Yield ~ 1 + (1 | Batch), dye)

pupils <- read("raudenbush1985"); held(pupils, metadat::dat.raudenbush1985)
found$raudenbush1985 <- pooled(pupils$yi, pupils$vi)
writing <- read("bangertdrowns2004"); held(writing, metadat::dat.bangertdrowns2004, c("yi", "vi"))
found$bangertdrowns2004 <- pooled(writing$yi, writing$vi)
stays <- read("normand1999"); held(stays, metadat::dat.normand1999)
effects <- escalc(measure = "MD", m1i = m1i, sd1i = sd1i, n1i = n1i, m2i = m2i, sd2i = sd2i, n2i = n2i, data = stays)
found$normand1999 <- pooled(effects$yi, effects$vi)

writeLines(toJSON(found, digits = I(15), auto_unbox = TRUE, na = "null", null = "null", pretty = 1), "further.json")
