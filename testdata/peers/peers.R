# What a statistician would reach for, on real house sales, to be compared with hedonic on the same splits:
#
#   Rscript peers.R OUT_DIR [repeats] [seed] [all]
#
# Needs R 4 with AER, modeldata, MASS, quantreg and glmnet (Debian: r-base-core r-cran-aer r-cran-modeldata
# r-cran-mass r-cran-quantreg r-cran-glmnet). Sixty repeats when not said. A seed other than the published
# one gives splits to develop on, so that those of the comparison stay unseen. The ridge is slow and runs on
# the first fifth of the repeats; with `all` on every one, which changes peers_each.csv alone.
#
# The task: central 80 % bands of log price for 200 sales, learned from n = 12, 20, 40 or 80 others.
# The data: Windsor, Canada (Anglin and Gencay 1996, AER::HousePrices); Ames, Iowa (De Cock 2011,
# modeldata::ames). OUT_DIR receives
#
#   windsor.csv ames.csv   y, the log price, and the columns of the regression without the ones
#   splits.csv             set, n, k, train, test: rows from 1, a line a repeat
#   peers.csv              set, n, peer, cover80, score80, width80: means over the repeats that had a band
#   peers_each.csv         the same for every repeat k
suppressPackageStartupMessages({
  library(MASS)
  library(quantreg)
  library(glmnet)
  library(AER)
  library(modeldata)
})

published <- 20260101L
given <- commandArgs(TRUE)
everywhere <- "all" %in% given
given <- setdiff(given, "all")
if (length(given) < 1) stop("say where to: Rscript peers.R OUT_DIR [repeats] [seed] [all]")
folder <- given[1]
repeats <- if (length(given) >= 2) as.integer(given[2]) else 60L
seed <- if (length(given) >= 3) as.integer(given[3]) else published
dir.create(folder, recursive = TRUE, showWarnings = FALSE)
write_to <- function(d, name) write.csv(d, file.path(folder, name), row.names = FALSE)

miss <- 0.2 # the part of the prices that a band may miss

# Data -------------------------------------------------------------------------------------------------

data(HousePrices)
data(ames)
columns <- function(formula, d) model.matrix(formula, as.data.frame(d))[, -1]
sales <- list(
  windsor = list(
    y = log(HousePrices$price),
    X = columns(~ log(lotsize) + bedrooms + bathrooms + stories + driveway + recreation + fullbase +
                  gasheat + aircon + garage + prefer, HousePrices)),
  ames = list(
    y = log(ames$Sale_Price),
    X = columns(~ log(Gr_Liv_Area) + Year_Built + Full_Bath + Half_Bath + Bedroom_AbvGr + Fireplaces +
                  Garage_Cars + log(Lot_Area) + Year_Sold, ames)))

# Peers ------------------------------------------------------------------------------------------------
# Each takes the columns and log prices of the sales to learn from and the columns of those to judge, and
# gives a matrix of lower and upper ends, or NULL where it has no answer.

# The mean of the prices and their scatter, no column used.
naive <- function(X, y, new) {
  n <- length(y)
  reach <- qt(1 - miss / 2, n - 1) * sd(y) * sqrt(1 + 1 / n)
  cbind(rep(mean(y) - reach, nrow(new)), mean(y) + reach)
}

# Least squares with R's prediction interval; columns that the others span are dropped.
least_squares <- function(X, y, new) {
  fit <- lm.fit(cbind(1, X), y)
  spare <- length(y) - fit$rank
  if (spare <= 0) return(NULL)
  own <- fit$qr$pivot[seq_len(fit$rank)]
  root <- qr.R(fit$qr)[seq_len(fit$rank), seq_len(fit$rank), drop = FALSE]
  at <- cbind(1, new)[, own, drop = FALSE]
  leverage <- rowSums((at %*% backsolve(root, diag(fit$rank)))^2)
  middle <- at %*% fit$coefficients[own]
  scatter <- sqrt(sum(fit$residuals^2) / spare)
  reach <- qt(1 - miss / 2, spare) * scatter * sqrt(1 + leverage)
  cbind(middle - reach, middle + reach)
}

# Linear quantile regression at both ends, put in order where they cross.
quantiles <- function(X, y, new) {
  end <- function(p) {
    fit <- suppressWarnings(rq.fit(cbind(1, X), y, tau = p))
    cbind(1, new) %*% fit$coefficients
  }
  a <- end(miss / 2)
  b <- end(1 - miss / 2)
  cbind(pmin(a, b), pmax(a, b))
}

# Ridge regression, its penalty by cross-validation, with jackknife+ (Barber et al. 2021) around it. The
# folds are its only use of chance.
ridge <- function(X, y, new) {
  n <- length(y)
  chosen <- suppressWarnings(cv.glmnet(X, y, alpha = 0, nfolds = min(10, n), grouped = FALSE, lambda.min.ratio = 1e-4))
  without <- lapply(seq_len(n), function(i) {
    fit <- glmnet(X[-i, ], y[-i], alpha = 0, lambda = chosen$lambda)
    at <- function(x) c(predict(fit, x, s = chosen$lambda.min))
    list(off = abs(y[i] - at(X[i, , drop = FALSE])), middle = at(new))
  })
  off <- vapply(without, `[[`, 0, "off")
  middle <- vapply(without, `[[`, numeric(nrow(new)), "middle")
  rank_of <- function(m, r) apply(m, 1, function(v) sort(v)[r])
  cbind(rank_of(sweep(middle, 2, off, "-"), max(1, floor(miss * (n + 1)))),
        rank_of(sweep(middle, 2, off, "+"), min(n, ceiling((1 - miss) * (n + 1)))))
}

peers <- list(naive = naive, lm = least_squares, quantreg = quantiles, ridgeJackknife = ridge)
slow <- "ridgeJackknife"

# Scoring ----------------------------------------------------------------------------------------------

# Share of prices within, mean interval score (Gneiting and Raftery 2007, eq. 43; lower is better), width.
judge <- function(band, y) {
  low <- band[, 1]
  high <- band[, 2]
  penalty <- 2 / miss * (pmax(low - y, 0) + pmax(y - high, 0))
  c(mean(low <= y & y <= high), mean(high - low + penalty), mean(high - low))
}

# Runs what must not move the random numbers of the rest.
aside <- function(run) {
  state <- .Random.seed
  on.exit(assign(".Random.seed", state, globalenv()))
  run()
}

set.seed(seed)
splits <- each <- list()
for (set in names(sales)) {
  y <- sales[[set]]$y
  X <- sales[[set]]$X
  write_to(data.frame(y = y, X), paste0(set, ".csv"))
  for (n in c(12, 20, 40, 80)) for (k in seq_len(repeats)) {
    train <- sample(length(y), n)
    test <- sample(setdiff(seq_along(y), train), 200)
    splits[[length(splits) + 1]] <- data.frame(set = set, n = n, k = k,
      train = paste(train, collapse = " "), test = paste(test, collapse = " "))
    for (peer in names(peers)) {
      band_of <- function() tryCatch(peers[[peer]](X[train, ], y[train], X[test, ]), error = function(e) NULL)
      extra <- peer == slow && k > repeats / 5
      if (extra && !everywhere) next
      band <- if (extra) aside(band_of) else band_of()
      if (is.null(band) || !all(is.finite(band))) next
      s <- judge(band, y[test])
      each[[length(each) + 1]] <- data.frame(set = set, n = n, k = k, peer = peer,
        cover80 = s[1], score80 = s[2], width80 = s[3])
    }
  }
}
each <- do.call(rbind, each)

counted <- each[each$peer != slow | each$k <= repeats / 5, ]
cells <- unique(counted[c("set", "n", "peer")])
cells <- cells[order(match(cells$set, names(sales)), cells$n, match(cells$peer, names(peers))), ]
means <- do.call(rbind, lapply(seq_len(nrow(cells)), function(i) {
  own <- merge(counted, cells[i, ])
  cbind(cells[i, ], t(round(colMeans(own[c("cover80", "score80", "width80")]), 3)))
}))

write_to(do.call(rbind, splits), "splits.csv")
write_to(means, "peers.csv")
write_to(each, "peers_each.csv")
print(means, row.names = FALSE)
