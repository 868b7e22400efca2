# Reference values for the log-normal time to an event with right-censored cases: survreg of the R package
# survival on two of its own public data sets, lung (Loprinzi et al. 1994) and ovarian (Edmonson et al. 1979).
# Rscript make.R, in this folder; it needs the Debian packages r-base-core and r-cran-survival.
library(survival)
options(digits = 17)
write_case <- function(name, model, data) {
  fit <- survreg(model, data = data, model = TRUE, dist = "lognormal", control = survreg.control(rel.tolerance = 1e-14, maxiter = 100))
  frame <- model.frame(model, data)
  x <- model.matrix(model, frame)
  y <- as.matrix(model.response(frame))
  table <- data.frame(days = y[, 1], event = y[, 2], x, check.names = FALSE)
  write.csv(table, paste0(name, ".csv"), row.names = FALSE, quote = FALSE)
  values <- data.frame(what = c(colnames(x), "scale", "loglik"), value = format(c(coef(fit), fit$scale, fit$loglik[2]), digits = 17, scientific = TRUE, trim = TRUE))
  write.csv(values, paste0(name, "_values.csv"), row.names = FALSE, quote = FALSE)
}
write_case("lung", Surv(time, status == 2) ~ age + sex + ph.ecog, lung)
write_case("ovarian", Surv(futime, fustat) ~ age + ecog.ps + rx, ovarian)
