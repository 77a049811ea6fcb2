source(file.path(Sys.getenv("ORACLE_ROOT", "."), "lib/oracle.R"))
s <- MASS::survey; dir <- here("a1-survey")
d <- data.frame(id = sprintf("S%03d", seq_len(nrow(s))), sex = s$Sex, writing_hand = s$W.Hnd,
  span_writing_cm = s$Wr.Hnd, span_nonwriting_cm = s$NW.Hnd, pulse_bpm = s$Pulse, height_cm = s$Height, height_system = s$M.I, age_y = s$Age)
# "as the person gave it": metric -> centimetres, imperial -> inches (cm / 2.54 rounded to 0.01 in)
d$height_as_given <- ifelse(is.na(d$height_system), NA, ifelse(d$height_system == "Metric", d$height_cm, round(d$height_cm / 2.54, 2)))
d$height_as_given_unit <- ifelse(is.na(d$height_system), NA, ifelse(d$height_system == "Metric", "cm", "in"))
write_csv(d, file.path(dir, "input.csv"))
# long "tidy observations" form of the same data: one row per athlete x side
w <- as.character(d$writing_hand); dom <- d$span_writing_cm; non <- d$span_nonwriting_cm
right <- ifelse(is.na(w), NA, ifelse(w == "Right", dom, non)); left <- ifelse(is.na(w), NA, ifelse(w == "Right", non, dom))
lg <- data.frame(id = rep(d$id, each = 2), measure = "hand_span", side = rep(c("L", "R"), nrow(d)), value = as.vector(rbind(left, right)), unit = "cm")
write_csv(lg, file.path(dir, "input_long.csv"))

mx <- pmax(dom, non); mn <- pmin(dom, non)
deficit <- 100 * (mx - mn) / mx
sa <- function(l, r) (45 - atan(l / r) * 180 / pi) / 90 * 100
per <- data.frame(id = d$id, left = left, right = right, deficit_pct_of_max = deficit,
  dom_minus_nondom_pct_of_nondom = 100 * (dom - non) / non,
  dom_minus_nondom_pct_of_dom = 100 * (dom - non) / dom,
  dom_minus_nondom_pct_of_max = 100 * (dom - non) / mx,
  dom_minus_nondom_pct_of_mean = 100 * (dom - non) / ((dom + non) / 2),
  right_minus_left_pct_of_max = 100 * (right - left) / mx,
  symmetry_angle_left_over_right = sa(left, right),
  symmetry_angle_nondom_over_dom = sa(non, dom),
  symmetry_angle_abs = abs(sa(non, dom)),
  limb_symmetry_index_nondom_over_dom = 100 * non / dom)
summ <- function(x) list(all = describe(x), by_sex = describe_by(x, d$sex))
cm <- d$height_as_given * ifelse(d$height_as_given_unit == "in", 2.54, 1)
flag <- function(x, cut) { k <- !is.na(x); list(cut = cut, n = sum(k), n_gt = sum(x[k] > cut), n_ge = sum(x[k] >= cut),
   gt_by_sex = as.list(tapply(x > cut, d$sex, sum, na.rm = TRUE)), n_by_sex = as.list(tapply(!is.na(x), d$sex, sum)),
   prevalence_gt = prop_all(sum(x[k] > cut), sum(k))) }
near <- which(abs(deficit - 10) < .3 | abs(deficit - 5) < .02)
out <- list(meta = meta("MASS::survey (MASS 7.3-58.2)", "GPL-2 | GPL-3", "a1-survey/make.R", c(
    "deficit_pct_of_max = 100*(max-min)/max of the two sides; null when either side is missing",
    "left/right rebuilt: writing hand Right -> right = span_writing, left = span_nonwriting; Left -> the reverse; missing handedness -> no left/right, but the deficit still exists",
    "symmetry_angle = (45 - atan(left/right) in degrees)/90*100; positive when right > left. symmetry_angle_nondom_over_dom is positive when the dominant side is larger; abs is the unsigned form",
    "describe(): sd/var use n-1; median averages the middle two; mad_raw constant 1, mad_1_4826 = 1.4826*raw; quantiles type 7; mean CI is Student t",
    "robust z: z_0_6745 = 0.6745*(x-median)/MAD_raw; z_1_4826 = (x-median)/(1.4826*MAD_raw); flagged when |z| > 3.5 strictly",
    "height_as_given mixes cm and inches (2 decimals); height_from_given_cm_* is x*2.54 for inches, so it differs from height_cm by rounding",
    "by_sex drops the one row with missing sex")),
  counts = list(rows = nrow(d), sex = as.list(table(d$sex, useNA = "no")), sex_missing = sum(is.na(d$sex)), handed_left = sum(w == "Left", na.rm = TRUE), handed_right = sum(w == "Right", na.rm = TRUE),
    handed_missing = sum(is.na(w)), span_pairs_complete = sum(!is.na(deficit)), left_right_complete = sum(!is.na(left) & !is.na(right)),
    height_metric = sum(s$M.I == "Metric", na.rm = TRUE), height_imperial = sum(s$M.I == "Imperial", na.rm = TRUE),
    dominant_larger = sum(dom > non, na.rm = TRUE), nondominant_larger = sum(dom < non, na.rm = TRUE), equal = sum(dom == non, na.rm = TRUE)),
  per_athlete = per,
  cohort = list(span_writing_cm = summ(dom), span_nonwriting_cm = summ(non), left = summ(left), right = summ(right), deficit_pct_of_max = summ(deficit),
    dom_minus_nondom_pct_of_nondom = summ(per$dom_minus_nondom_pct_of_nondom), symmetry_angle_nondom_over_dom = summ(per$symmetry_angle_nondom_over_dom), symmetry_angle_abs = summ(per$symmetry_angle_abs),
    pulse_bpm = summ(d$pulse_bpm), height_cm = summ(d$height_cm), height_from_given_cm = summ(cm), age_y = summ(d$age_y)),
  deficit_flags = list(gt5 = flag(deficit, 5), gt10 = flag(deficit, 10), gt15 = flag(deficit, 15)),
  deficit_gt10_ids = I(d$id[which(deficit > 10)]),
  deficit_near_cut = data.frame(id = d$id[near], larger = mx[near], smaller = mn[near], deficit = deficit[near]),
  robust_outliers = list(
    deficit_all = robust_outliers(deficit, d$id), span_writing_all = robust_outliers(dom, d$id), pulse_all = robust_outliers(d$pulse_bpm, d$id), age_all = robust_outliers(d$age_y, d$id), height_all = robust_outliers(d$height_cm, d$id),
    height_given_mixed_units = robust_outliers(d$height_as_given, d$id),
    by_sex = lapply(c(Female = "Female", Male = "Male"), function(g) { k <- which(d$sex == g); list(
      deficit = robust_outliers(deficit[k], d$id[k]), span_writing = robust_outliers(dom[k], d$id[k]), height = robust_outliers(d$height_cm[k], d$id[k]), pulse = robust_outliers(d$pulse_bpm[k], d$id[k])) })),
  tukey_fences_1_5 = list(deficit = tukey_outliers(deficit, d$id), height_cm = tukey_outliers(d$height_cm, d$id), pulse = tukey_outliers(d$pulse_bpm, d$id), age = tukey_outliers(d$age_y, d$id)),
  quantile_types_deficit = lapply(setNames(1:9, paste0("type", 1:9)), function(t) setNames(unname(quantile(deficit, c(.05, .1, .25, .5, .75, .9, .95), type = t, na.rm = TRUE)), c("q05", "q10", "q25", "q50", "q75", "q90", "q95"))),
  sex_difference_height = { f <- t.test(height_cm ~ sex, d); g <- t.test(height_cm ~ sex, d, var.equal = TRUE); w <- suppressWarnings(wilcox.test(height_cm ~ sex, d, exact = FALSE, correct = TRUE)); list(
    welch = list(diff_female_minus_male = unname(f$estimate[1] - f$estimate[2]), t = unname(f$statistic), df = unname(f$parameter), p = f$p.value, ci_lo = f$conf.int[1], ci_hi = f$conf.int[2]),
    pooled = list(t = unname(g$statistic), df = unname(g$parameter), p = g$p.value, ci_lo = g$conf.int[1], ci_hi = g$conf.int[2]),
    mann_whitney_normal_cc = list(W = unname(w$statistic), p = w$p.value)) })
write_json(out, file.path(dir, "expected.json"))
print(out$counts[c("span_pairs_complete","dominant_larger","nondominant_larger","equal")]); print(out$deficit_near_cut); str(out$deficit_flags$gt10)
for (n in names(out$robust_outliers)[1:6]) cat(n, out$robust_outliers[[n]]$mad_raw, out$robust_outliers[[n]]$n_06745, out$robust_outliers[[n]]$n_14826, "\n")
