# Hoosfield spring barley, farmyard manure each year since 1852: total organic carbon of the topsoil, t/ha, 0 to 23 cm.
# Rothamsted Research (2012), Hoosfield soil organic carbon content, doi 10.23637/KeyRefOAHBsoc, CC BY 4.0.
# R 4.2: Rscript test/soil/hoosfield.R prints what test/soil/hoosfield.test.ts holds.
year <- c(1852, 1882, 1913, 1946, 1965, 1975, 1982, 1998) - 1852
manured <- c(30.7, 59.9, 75.5, 76.3, 87.2, 86.8, 85.4, 93.0)
brought <- 1.6
one <- nls(manured ~ brought / k + (start - brought / k) * exp(-k * year), start = list(k = .02, start = 30))
print(summary(one)$coefficients, digits = 10)
both <- nls(manured ~ level + (start - level) * exp(-k * year), start = list(k = .02, start = 30, level = 90))
print(summary(both)$coefficients, digits = 10)
cat("brought by both:", format(prod(coef(both)[c("k", "level")]), digits = 10), "\n")
cat("residual of both:", format(summary(both)$sigma, digits = 6), "\n")
print(fitted(both), digits = 8)
