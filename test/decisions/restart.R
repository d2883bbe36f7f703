# Covering or hoeing on, by the same draws, with base R 4.2 and no line of the service: the share of draws in which covering
# takes less, the break-even of hoeing and the burdens of both ways season by season, as percentiles.
# Rscript test/decisions/restart.R folder : reads draws.csv, assumed.csv and terms.csv there and writes answer.csv.
folder <- commandArgs(trailingOnly = TRUE)[1]
u <- read.csv(file.path(folder, "draws.csv"))
a <- read.csv(file.path(folder, "assumed.csv"), row.names = 1)
terms <- read.csv(file.path(folder, "terms.csv"))

# Evans, Hastings and Peacock: two squares that meet at the middle, solved for the value.
from_triangle <- function(u, low, middle, high) {
  if (high <= low) return(rep(middle, length(u)))
  below <- (middle - low) / (high - low)
  ifelse(u < below, low + sqrt(u * (high - low) * (middle - low)), high - sqrt((1 - u) * (high - low) * (high - middle)))
}
case <- lapply(setNames(rownames(a), rownames(a)), function(key) from_triangle(u[[key]], a[key, "low"], a[key, "middle"], a[key, "high"]))
case$comesBack <- as.numeric(u$back < case$comesBack)

# 1 + (1 - f) + (1 - f)^2 ..., the last season by its part.
times <- function(seasons, falls) {
  left <- pmax(0, seasons); sum <- 0 * falls
  for (i in 0:40) sum <- sum + (1 - falls)^i * pmin(1, pmax(0, left - i))
  sum
}
weighed <- function(minutes, lost, spared, covered) {
  if (terms$kind == "hours") { minute <- 1; gram <- terms$minutesPerKg / 1000
  } else { minute <- terms$wage / 60; gram <- terms$price / 1000 }
  minutes * minute + lost * gram - pmin(spared * minute, covered * gram)
}
hoe <- function(seasons, minutes = case$hoeMinutes) with(case, {
  n <- times(rep(seasons, length(falls)), falls)
  weighed(minutes * n, ownG * lostToWeed * n, 0, 0)
})
cover <- function(seasons, minutes = case$hoeMinutes) with(case, {
  under <- pmin(covered, seasons); after <- seasons - under; planted <- pmin(1, after)
  again <- comesBack * times(after - 1, falls)
  weighed(coverMinutes + transplantMinutes * planted + minutes * again,
    ownG * under + ownG * (transplantLost * planted + lostToWeed * again), ownMinutes * under, ownG * under) + terms$materials
})
# A line in the minutes of hoeing, laid through two points far apart.
gain <- function(minutes) hoe(terms$seasons, minutes) - cover(terms$seasons, minutes)
none <- gain(rep(0, nrow(u))); far <- gain(rep(10000, nrow(u)))
even <- ifelse(none >= 0, 0, ifelse(far - none > 1e-2, -none * 10000 / (far - none), Inf))
# The lower of two neighbours.
band <- function(x) sort(x)[floor(c(.1, .5, .9) * (length(x) - 1)) + 1]
steps <- pmin(0:ceiling(terms$seasons), terms$seasons)
line <- function(what, season, x) data.frame(what, season, low = x[1], middle = x[2], high = x[3])
result <- rbind(
  line("share", NA, rep(mean(gain(case$hoeMinutes) > 0), 3)), line("even", NA, band(even)),
  do.call(rbind, lapply(steps, function(s) line("hoeing", s, band(hoe(s))))),
  do.call(rbind, lapply(steps, function(s) line("covering", s, band(cover(s))))))
write.csv(result, file.path(folder, "answer.csv"), row.names = FALSE)
