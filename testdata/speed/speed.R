# Times least squares on the rows that speed.go wrote:
#
#   Rscript speed.R FILE rows columns repeats
#
# FILE holds doubles, the columns one after another and the response last. Prints a line a repeat: seconds
# of lm.fit, seconds of lm.
given <- commandArgs(TRUE)
rows <- as.integer(given[2])
columns <- as.integer(given[3])
all <- matrix(readBin(given[1], "double", rows * (columns + 1), endian = "little"), rows)
X <- all[, seq_len(columns)]
y <- all[, columns + 1]
seconds <- function(run) {
  gc()
  start <- proc.time()[["elapsed"]]
  run()
  proc.time()[["elapsed"]] - start
}
for (i in seq_len(as.integer(given[4])))
  cat(seconds(function() lm.fit(X, y)), seconds(function() lm(y ~ X - 1)), "\n")
