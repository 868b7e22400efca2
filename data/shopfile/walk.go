package shopfile

// visit is told of a row, which is good until it returns. It returns false to see no more.
type visit func(t *table, r row) bool

// rows goes through every row of the contents but the stopwatch, which nobody holds by a version.
func (c *Contents) rows(fn visit) {
	_ = fn(settingsTable, settingsRow(&c.Settings)) && c.rowsOfMotors(fn) && c.rowsOfCards(fn) && c.rowsOfLots(fn) &&
		each(fn, rates, c.Rates, rateRow) && each(fn, photos, c.Photos, photoRow) &&
		each(fn, goods, c.Goods, goodRow) && each(fn, moves, c.Moves, moveRow) &&
		each(fn, receipts, c.Receipts, receiptRow) && each(fn, items, c.Items, itemRow) && each(fn, pieces, c.Pieces, pieceRow) &&
		each(fn, taxRules, c.TaxRules, taxRuleRow) && each(fn, closings, c.Closings, closingRow) &&
		each(fn, settlements, c.Settlements, settlementRow)
}

func (c *Contents) rowsOfMotors(fn visit) bool {
	if !each(fn, motors, c.Records, motorRow) {
		return false
	}
	for i := range c.Records {
		r := &c.Records[i]
		if r.Sale != nil && !fn(sales, saleRow(&soldMotor{r.ID, *r.Sale})) {
			return false
		}
		if !(each(fn, lines, r.Lines, lineRow) && each(fn, sessions, r.Sessions, sessionRow) &&
			each(fn, jobs, r.Jobs, jobRow) && each(fn, snags, r.Snags, snagRow) && each(fn, checks, r.Checks, checkRow) &&
			each(fn, chances, r.Guesses, guessRow) &&
			each(fn, asks, r.Asks, askRow) && each(fn, bids, r.Bids, bidRow) && each(fn, holds, r.Holds, holdRow)) {
			return false
		}
	}
	return true
}

func (c *Contents) rowsOfCards(fn visit) bool {
	for i := range c.Cards {
		if !fn(cards, cardRow(&c.Cards[i])) || !each(fn, cardDraws, c.Cards[i].Draws, cardDrawRow) {
			return false
		}
	}
	return true
}

func (c *Contents) rowsOfLots(fn visit) bool {
	for i := range c.Bundles {
		if !fn(lots, bundleRow(&c.Bundles[i])) || !each(fn, lotThings, c.Bundles[i].Things, bundleThingRow) {
			return false
		}
	}
	return true
}

// each ties one value to its columns and lets it be the rows of a list in turn: a row costs no memory.
func each[T any](fn visit, t *table, list []T, bind func(*T) row) bool {
	if len(list) == 0 {
		return true
	}
	var one T
	r := bind(&one)
	for i := range list {
		one = list[i]
		if !fn(t, r) {
			return false
		}
	}
	return true
}
