source(file.path(Sys.getenv("ORACLE_ROOT", "."), "lib/oracle.R")); dir <- here("b02-proportions")
wcc <- function(x, n, c) { z <- qnorm(1 - (1 - c) / 2); p <- x / n; q <- 1 - p
  lo <- if (x == 0) 0 else max(0, (2 * n * p + z^2 - 1 - z * sqrt(z^2 - 2 - 1 / n + 4 * p * (n * q + 1))) / (2 * (n + z^2)))
  hi <- if (x == n) 1 else min(1, (2 * n * p + z^2 + 1 + z * sqrt(z^2 + 2 - 1 / n + 4 * p * (n * q - 1))) / (2 * (n + z^2))); c(lo = lo, hi = hi) }
g <- rbind(c(0,1), c(1,1), c(0,10), c(1,10), c(5,10), c(10,10), c(2,7), c(3,236), c(4,25), c(9,30), c(15,148), c(81,263), c(0,500), c(1,500), c(250,500), c(499,500), c(500,500), c(34,36), c(1234,50000))
g <- merge(data.frame(x = g[, 1], n = g[, 2]), data.frame(conf = c(.8, .9, .95, .99)), by = NULL); g <- g[order(g$n, g$x, g$conf), ]; rownames(g) <- NULL
write_csv(g, file.path(dir, "input_single.csv"))
fs <- list(wald = ci_wald, wilson = ci_wilson, wilson_cc_newcombe = wcc, wilson_cc_r_prop_test = ci_wilson_cc, clopper_pearson = ci_cp, clopper_pearson_midp = ci_cp_midp, agresti_coull = ci_ac, jeffreys = ci_jeffreys)
res <- cbind(g, p = g$x / g$n)
for (k in names(fs)) { m <- t(mapply(fs[[k]], g$x, g$n, g$conf)); res[[paste0(k, "_lo")]] <- m[, 1]; res[[paste0(k, "_hi")]] <- m[, 2] }
for (i in seq_len(nrow(g))) { a <- suppressWarnings(prop.test(g$x[i], g$n[i], conf.level = g$conf[i], correct = FALSE)$conf.int); b <- binom.test(g$x[i], g$n[i], conf.level = g$conf[i])$conf.int
  stopifnot(max(abs(a - c(res$wilson_lo[i], res$wilson_hi[i]))) < 1e-12, max(abs(b - c(res$clopper_pearson_lo[i], res$clopper_pearson_hi[i]))) < 1e-12) }
D <- rbind(c(56,70,48,80), c(9,10,3,10), c(6,7,2,7), c(5,56,0,29), c(0,10,0,20), c(0,10,0,10), c(10,10,0,20), c(10,10,0,10), c(15,148,23,151), c(3,236,11,240), c(1,500,9,480), c(120,400,90,410))
D <- data.frame(x1 = D[, 1], n1 = D[, 2], x2 = D[, 3], n2 = D[, 4]); write_csv(D, file.path(dir, "input_difference.csv"))
two <- function(x1, n1, x2, n2, c = .95) { z <- qnorm(1 - (1 - c) / 2); p1 <- x1 / n1; p2 <- x2 / n2; d <- p1 - p2
  nw <- function(f) { a <- f(x1, n1, c); b <- f(x2, n2, c); c(d - sqrt((p1 - a[[1]])^2 + (b[[2]] - p2)^2), d + sqrt((a[[2]] - p1)^2 + (p2 - b[[1]])^2)) }
  wl <- d + c(-1, 1) * z * sqrt(p1 * (1 - p1) / n1 + p2 * (1 - p2) / n2); q1 <- (x1 + 1) / (n1 + 2); q2 <- (x2 + 1) / (n2 + 2); ac <- q1 - q2 + c(-1, 1) * z * sqrt(q1 * (1 - q1) / (n1 + 2) + q2 * (1 - q2) / (n2 + 2))
  pp <- (x1 + x2) / (n1 + n2); zp <- d / sqrt(pp * (1 - pp) * (1 / n1 + 1 / n2)); zu <- d / sqrt(p1 * (1 - p1) / n1 + p2 * (1 - p2) / n2)
  h <- 2 * asin(sqrt(p1)) - 2 * asin(sqrt(p2)); pt <- suppressWarnings(prop.test(c(x1, x2), c(n1, n2), correct = TRUE, conf.level = c))
  n10 <- nw(ci_wilson); n11 <- nw(wcc)
  data.frame(x1, n1, x2, n2, conf = c, p1, p2, diff = d, newcombe_lo = n10[1], newcombe_hi = n10[2], newcombe_cc_lo = max(-1, n11[1]), newcombe_cc_hi = min(1, n11[2]), wald_lo = wl[1], wald_hi = wl[2], agresti_caffo_lo = ac[1], agresti_caffo_hi = ac[2],
    z_pooled = zp, p_z_pooled = 2 * pnorm(-abs(zp)), z_unpooled = zu, cohen_h = h, prop_test_yates_chisq = unname(pt$statistic), prop_test_yates_p = pt$p.value, prop_test_wald_cc_lo = pt$conf.int[1], prop_test_wald_cc_hi = pt$conf.int[2]) }
df2 <- do.call(rbind, Map(two, D$x1, D$n1, D$x2, D$n2))
# paired difference (same athletes, two seasons): e,f,g,h = both yes, yes/no, no/yes, both no
PD <- data.frame(both = c(36, 20, 10, 0, 53), first_only = c(12, 12, 0, 5, 0), second_only = c(2, 2, 5, 9, 0), neither = c(0, 16, 35, 100, 1))
write_csv(PD, file.path(dir, "input_paired_difference.csv"))
pd <- function(e, f, g, h, c = .95) { n <- e + f + g + h; p1 <- (e + f) / n; p2 <- (e + g) / n; d <- p1 - p2; a <- ci_wilson(e + f, n, c); b <- ci_wilson(e + g, n, c); q <- (e + f) * (g + h) * (e + g) * (f + h); num <- e * h - f * g
  nc <- if (num > n / 2) num - n / 2 else if (num >= 0) 0 else num
  ph <- if (q == 0) 0 else num / sqrt(q); phc <- if (q == 0) 0 else nc / sqrt(q)
  ci <- function(ph) { dl1 <- p1 - a[[1]]; du1 <- a[[2]] - p1; dl2 <- p2 - b[[1]]; du2 <- b[[2]] - p2; c(d - sqrt(dl1^2 - 2 * ph * dl1 * du2 + du2^2), d + sqrt(du1^2 - 2 * ph * du1 * dl2 + dl2^2)) }
  x <- ci(ph); y <- ci(phc); z <- qnorm(1 - (1 - c) / 2); se <- sqrt(f + g - (f - g)^2 / n) / n
  data.frame(both = e, first_only = f, second_only = g, neither = h, n, diff_first_minus_second = d, newcombe_paired_method8_lo = x[1], newcombe_paired_method8_hi = x[2], newcombe_paired_method10_lo = y[1], newcombe_paired_method10_hi = y[2], phi = ph, phi_corrected = phc, wald_se = se, wald_lo = d - z * se, wald_hi = d + z * se) }
pdr <- do.call(rbind, Map(pd, PD$both, PD$first_only, PD$second_only, PD$neither))
out <- list(meta = meta("analytic; checked in-script against stats::prop.test and binom.test", "own work", "b02-proportions/make.R", c(
  "wilson lower is exactly 0 at x=0 and upper exactly 1 at x=n", "wald and agresti_coull are NOT clipped to [0,1]", "wilson_cc_newcombe always applies the 1/(2n) correction; R's prop.test(correct=TRUE) uses min(0.5, |x - n/2|), so near x = n/2 it is smaller (none at x = n/2)",
  "jeffreys: lower set to 0 at x=0, upper to 1 at x=n", "newcombe = method 10 (score, no correction); newcombe_cc = method 11 (Wilson with correction, clipped to [-1,1])", "paired: square-and-add (method 8, phi uncorrected) and method 10 (phi numerator max(ad-bc-n/2,0) when ad>bc); difference is first minus second")),
  single = res, difference = df2, paired_difference = pdr)
write_json(out, file.path(dir, "expected.json")); print(df2[1:8, c("x1", "n1", "x2", "n2", "newcombe_lo", "newcombe_hi", "newcombe_cc_lo", "newcombe_cc_hi")], digits = 5); print(pdr[, c(6:10)], digits = 5)
