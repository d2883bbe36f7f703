# Fits each csv of a folder by lme4: ten fits inside one process, as the service's own are timed.
# Rscript mixed-model.R folder; writes lmer.json there. Called by mixed-model.ts.
suppressMessages({ library(lme4); library(lmerTest); library(jsonlite) })
folder <- commandArgs(TRUE)[1]
processor <- function(f) { start <- proc.time(); f(); sum((proc.time() - start)[1:2]) * 1000 }
milliseconds <- function(f) { start <- Sys.time(); f(); as.numeric(Sys.time() - start, units = "secs") * 1000 }
model <- y ~ method + (1 | crop) + (1 | season)
found <- list(versions = list(R = paste(R.version$major, R.version$minor, sep = "."),
  lme4 = as.character(packageVersion("lme4")), lmerTest = as.character(packageVersion("lmerTest"))))
for (file in list.files(folder, "csv$")) {
  data <- read.csv(file.path(folder, file), stringsAsFactors = TRUE)
  data$method <- factor(data$method, levels = unique(data$method))
  first <- milliseconds(function() fit <<- lme4::lmer(model, data))
  # lme4 stops early by default, which is what is timed; what is compared is searched to the end.
  exact <- lme4::lmer(model, data, control = lmerControl(optimizer = "bobyqa", optCtrl = list(rhoend = 1e-10)))
  variances <- as.data.frame(VarCorr(exact))
  fits <- replicate(10, milliseconds(function() lme4::lmer(model, data)))
  spent <- replicate(10, processor(function() lme4::lmer(model, data)))
  # What lmerTest adds to a fit that is there: the derivatives, and the table of coefficients with their df.
  dfs <- replicate(10, milliseconds(function() coef(summary(as_lmerModLmerTest(fit)))))
  found[[file]] <- list(first = first, fits = fits, spent = spent, dfs = dfs, criterion = REMLcrit(exact), asTimed = REMLcrit(fit),
    variances = setNames(as.list(variances$vcov), sub("Residual", "residual", variances$grp)),
    df = unname(coef(summary(as_lmerModLmerTest(exact)))[, "df"]))
}
writeLines(toJSON(found, digits = I(15), auto_unbox = TRUE), file.path(folder, "lmer.json"))
