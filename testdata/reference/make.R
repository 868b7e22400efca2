# Makes the reference values that the Go tests compare with. Run in this folder:
#
#   Rscript make.R
#
# Needs R 4, AER and modeldata (Debian: r-base-core r-cran-aer r-cran-modeldata). Made with R 4.2.2,
# AER 1.2-10, modeldata 1.1.0. Every figure is written with 17 significant digits.
suppressPackageStartupMessages({library(AER); library(modeldata)})
digits <- function(d) { d[] <- lapply(d, function(v) if (is.numeric(v)) trimws(sprintf("%.17g", v)) else v); d }
keep <- function(d, file) write.csv(digits(d), file, row.names = FALSE, quote = FALSE)

# 1. Longley (NIST StRD, linear least squares, higher difficulty): y, then x1..x6 as NIST orders them.
# datasets::longley keeps some columns in larger units than NIST; the factors carry them back.
data(longley)
L <- with(longley, data.frame(y = Employed * 1000, x1 = GNP.deflator, x2 = GNP * 1000,
  x3 = Unemployed * 10, x4 = Armed.Forces * 10, x5 = Population * 1000, x6 = Year))
L[] <- lapply(L, function(v) round(v, 6))
keep(L, "longley.csv")
s <- summary(lm(y ~ ., L))
keep(data.frame(name = c(paste0("B", 0:6), "residual"), value = c(s$coefficients[, 1], s$sigma),
  sd = c(s$coefficients[, 2], NA)), "longley_values.csv")

# 2. House sales in Windsor, Canada (Anglin and Gencay 1996, through AER::HousePrices): a hedonic price
# model on odd rows, prediction intervals of the even rows; the same with weights; and each of the
# first forty odd rows predicted by a model fitted without it.
data(HousePrices)
X <- model.matrix(~ log(lotsize) + bedrooms + bathrooms + stories + driveway + recreation + fullbase +
  gasheat + aircon + garage + prefer, HousePrices)
n <- nrow(X)
H <- data.frame(y = log(HousePrices$price), X[, -1], w = 0.5^((seq_len(n) %% 9) / 4))
names(H) <- c("y", "lotsize", "bedrooms", "bathrooms", "stories", "driveway", "recreation", "fullbase",
  "gasheat", "aircon", "garage", "prefer", "w")
keep(H, "windsor.csv")
columns <- setdiff(names(H), "w")
train <- H[seq(1, n, 2), ]; test <- H[seq(2, n, 2), ]
bands <- function(m, new, wt) do.call(rbind, lapply(c(0.5, 0.8, 0.95), function(level) {
  p <- predict(m, new, interval = "prediction", level = level, weights = wt)
  data.frame(row = as.integer(rownames(new)), level = level, fit = p[, 1], low = p[, 2], high = p[, 3]) }))
plain <- lm(y ~ ., train[, columns])
weighted <- lm(y ~ . - w, train, weights = w)
keep(bands(plain, test, rep(1, nrow(test))), "windsor_bands.csv")
keep(bands(weighted, test, test$w), "windsor_weighted_bands.csv")
keep(do.call(rbind, lapply(1:40, function(i)
  bands(lm(y ~ ., train[-i, columns]), train[i, ], 1))), "windsor_left_out.csv")

# 3. The conjugate posterior by plain matrix algebra (Gelman et al., BDA 3e, ch. 14; O'Hagan and Forster,
# ch. 11), on made-up rows; and the log marginal likelihood as the density of the multivariate t that y
# then has, which shares no step with the formulas of the posterior.
set.seed(1863)
n <- 14; k <- 4
X <- cbind(1, round(rnorm(n), 3), round(rnorm(n, 2, 3), 3), rbinom(n, 1, 0.4))
y <- round(X %*% c(7, 0.6, -0.05, 0.3) + rnorm(n, 0, 0.3), 4)
w <- round(runif(n, 0.3, 1), 3)
keep(data.frame(y = y, x1 = X[, 1], x2 = X[, 2], x3 = X[, 3], x4 = X[, 4], w = w), "conjugate_data.csv")
m0 <- c(7.2, 0.5, 0, 0.2); sd0 <- c(0.25, 0.15, 0.1, 0.15); s0 <- 0.28; a0 <- 2; b0 <- a0 * s0^2
new <- c(1, 0.7, -1.5, 1)
out <- NULL
for (tau in c(0.5, 1, 2)) {
  D <- diag(tau^2 * (sd0 / s0)^2); W <- diag(w)
  V <- solve(solve(D) + t(X) %*% W %*% X)
  m <- V %*% (solve(D) %*% m0 + t(X) %*% W %*% y)
  a <- a0 + n / 2
  b <- c(b0 + (t(y) %*% W %*% y + t(m0) %*% solve(D) %*% m0 - t(m) %*% solve(V) %*% m) / 2)
  S <- (b0 / a0) * (solve(W) + X %*% D %*% t(X)); r <- y - X %*% m0; nu <- 2 * a0
  ml <- lgamma((nu + n) / 2) - lgamma(nu / 2) - n / 2 * log(nu * pi) -
    c(determinant(S)$modulus) / 2 - (nu + n) / 2 * log(1 + c(t(r) %*% solve(S) %*% r) / nu)
  at <- sum(new * m); scale <- sqrt(b / a * (1 / 0.6 + c(t(new) %*% V %*% new)))
  q <- at + scale * qt(c(0.1, 0.5, 0.975), 2 * a)
  out <- rbind(out, data.frame(tau = tau, name = c(paste0("m", 1:4), paste0("sd", 1:4), "a", "b", "logml",
    "q10", "q50", "q975"), value = c(m, sqrt(diag(V) * b / a), a, b, ml, q)))
}
keep(out, "conjugate_values.csv")

# 4. Student-t quantiles and probabilities, from far tails to the middle.
g <- expand.grid(df = c(1, 2.5, 4, 9, 30, 541, 1e5), p = c(1e-9, 0.0005, 0.005, 0.1, 0.25, 0.4999, 0.75, 0.975, 0.9995))
keep(data.frame(g, quantile = qt(g$p, g$df)), "student.csv")

# 5. House sales in Ames, Iowa (De Cock 2011, through modeldata::ames), every ninth up to 300, whose years
# near 2000 make the equations harder than Windsor's: intervals of the even rows from the odd ones; each
# odd row by a model fitted without it, with what that model errs by; and jackknife+ intervals (Barber,
# Candes, Ramdas and Tibshirani 2021, section 1.2) of the even rows from those models.
data(ames)
A <- as.data.frame(ames)[seq(1, by = 9, length.out = 300), ]
A <- with(A, data.frame(y = log(Sale_Price), area = log(Gr_Liv_Area), built = Year_Built, baths = Full_Bath, half = Half_Bath,
  bedrooms = Bedroom_AbvGr, fireplaces = Fireplaces, garage = Garage_Cars, lot = log(Lot_Area), sold = Year_Sold))
keep(A, "ames.csv")
train <- A[seq(1, 300, 2), ]; test <- A[seq(2, 300, 2), ]
keep(bands(lm(y ~ ., train), test, rep(1, nrow(test))), "ames_bands.csv")
without <- lapply(seq_len(nrow(train)), function(i) lm(y ~ ., train[-i, ]))
off <- sapply(seq_along(without), function(i) train$y[i] - unname(predict(without[[i]], train[i, ])))
keep(do.call(rbind, lapply(seq_along(without), function(i)
  cbind(bands(without[[i]], train[i, ], 1), off = off[i]))), "ames_left_out.csv")
middle <- sapply(without, predict, test) # a row a test row, a column a training row left out
ranked <- function(m, r) apply(m, 1, function(v) sort(v)[r])
keep(do.call(rbind, lapply(c(0.5, 0.8, 0.95), function(level) { m <- nrow(train); miss <- round(1 - level, 10)
  data.frame(row = as.integer(rownames(test)), level = level,
    low = ranked(sweep(middle, 2, abs(off), "-"), floor(miss * (m + 1))),
    high = ranked(sweep(middle, 2, abs(off), "+"), ceiling((1 - miss) * (m + 1)))) })), "ames_jackknife.csv")

# 6. What the offer draws: quantiles of a mixture of Student-t's by the root of its CDF, and of the
# log-normal by qlnorm; the mean and variance of a three-point guess read as a triangle, by integrating its
# density.
mixed <- function(x) 0.5 * pt((x - 7.6) / 0.28, 12) + 0.3 * pt((x - 7.8) / 0.4, 5) + 0.2 * pnorm((x - 7.2) / 0.2)
p <- c(0.0001, 0.005, 0.05, 0.1, 0.25, 0.5, 0.75, 0.9, 0.95, 0.995, 0.9999)
keep(data.frame(p = p, quantile = sapply(p, function(q) uniroot(function(x) mixed(x) - q, c(-5, 20), tol = 1e-14)$root)), "mixture.csv")
g <- expand.grid(median = c(2490, 800), sigma = c(0.1, 0.35, 0.8), p = c(0.005, 0.1, 0.2, 0.5, 0.9, 0.995))
keep(data.frame(g, quantile = qlnorm(g$p, log(g$median), g$sigma)), "lognormal.csv")
triangle <- function(a, m, b) { f <- function(x) ifelse(x < m, 2 * (x - a) / ((b - a) * (m - a)), 2 * (b - x) / ((b - a) * (b - m)))
  whole <- function(h) integrate(h, a, m, rel.tol = 1e-12)$value + integrate(h, m, b, rel.tol = 1e-12)$value
  mu <- whole(function(x) x * f(x)); c(mu, whole(function(x) (x - mu)^2 * f(x))) }
t3 <- data.frame(low = c(8, 14, 60), likely = c(13, 22, 120), high = c(20, 34, 180))
keep(data.frame(t3, t(mapply(function(a, m, b) setNames(triangle(a, m, b), c("mean", "variance")), t3$low, t3$likely, t3$high))), "triangle.csv")
