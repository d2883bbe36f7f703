# Makes distributions.json: probabilities and quantiles over a wide grid, both tails, 17 digits.
# Run: Rscript test/statistics/published/distributions.R > test/statistics/published/distributions.json
f <- function(x) formatC(x, digits = 17, format = "g")
rows <- c()
add <- function(name, args, value) rows <<- c(rows, sprintf('["%s",[%s],%s]', name, paste(f(args), collapse = ","), f(value)))
for (df in c(1, 1.5, 2, 3.7, 7, 24.2356393, 120, 1000, 10000)) for (t in c(0.01, 0.5, 1, 2.1, 5, 12)) {
  add("pt", c(t, df), pt(t, df)); add("pt upper", c(t, df), pt(t, df, lower.tail = FALSE))
}
for (d1 in c(1, 2.5, 4, 30, 800)) for (d2 in c(1, 3, 20.5, 300, 10000)) for (x in c(0.02, 0.7, 1.3, 4, 25)) {
  add("pf", c(x, d1, d2), pf(x, d1, d2)); add("pf upper", c(x, d1, d2), pf(x, d1, d2, lower.tail = FALSE))
}
for (df in c(1, 2, 5.5, 30, 400, 10000)) for (m in c(0.1, 0.6, 1, 1.4, 3)) {
  add("pchisq", c(m * df, df), pchisq(m * df, df)); add("pchisq upper", c(m * df, df), pchisq(m * df, df, lower.tail = FALSE))
}
for (z in c(0.01, 0.5, 1, 1.96, 4, 7, 12, 30)) { add("pnorm", -z, pnorm(-z)); add("pnorm", z, pnorm(z)) }
for (df in c(2, 5.5, 10, 60)) for (ncp in c(0.5, 2, 5)) for (t in c(0.5, 2.2, 6)) add("pnct", c(t, df, ncp), pt(t, df, ncp))
cat('{"R":"', R.version$major, ".", R.version$minor, '","rows":[\n', paste(rows, collapse = ",\n"), "\n]}\n", sep = "")
