# Hours per m2, hours per kg and cost per kg of replicated layouts, one value a garden or half: R 4.2.2, stats.
# Rscript test/comparison/by-r/work.R > test/comparison/by-r/work.json
# Made up: three gardens under each of A and B, two seasons; minutes and cents on 10 m2, kilograms.
minutes <- list(A = rbind(c(600, 660), c(780, 720), c(540, 600)), B = rbind(c(480, 420), c(600, 660), c(360, 450)))
kg <- list(A = rbind(c(20, 22), c(25, 21), c(18, 20)), B = rbind(c(21, 24), c(19, 20), c(23, 25)))
cents <- list(A = rbind(c(900, 1000), c(700, 800), c(1200, 1100)), B = rbind(c(1500, 1400), c(1300, 1650), c(1000, 1200)))
gardens <- function(x) lapply(x, function(m) rowMeans(log(m)))
said <- function(test) c(exp(unname(test$estimate[1] - ifelse(is.na(test$estimate[2]), 0, test$estimate[2]))),
                         exp(test$conf.int), unname(test$parameter))
whole <- function(x) said(t.test(x$B, x$A, var.equal = TRUE))
halves <- function(x) said(t.test(x$B - x$A))
ratio <- function(a, b) Map(`-`, a, b)
all <- list(area = gardens(minutes), hours = ratio(gardens(minutes), gardens(kg)), cost = ratio(gardens(cents), gardens(kg)))
row <- function(key, f) sprintf(' "%s": [%s]', key, paste(sprintf("%.10f", f), collapse = ", "))
cat("{\n", paste(c(sapply(names(all), function(n) row(paste("gardens", n), whole(all[[n]]))),
                   sapply(names(all), function(n) row(paste("halves", n), halves(all[[n]])))), collapse = ",\n"), "\n}\n", sep = "")
