-- +goose Up
-- What buying takes beside the price, the seller's papers, motors that were passed over, and lots: several
-- motors and things that a seller offers together.

CREATE TABLE lots (
    id TEXT NOT NULL PRIMARY KEY,
    version BIGINT NOT NULL CHECK (version = CAST(version AS BIGINT)),
    name TEXT NOT NULL,
    asks BIGINT NOT NULL CHECK (asks = CAST(asks AS BIGINT)),
    trip DOUBLE PRECISION NOT NULL CHECK (trip = CAST(trip AS DOUBLE PRECISION)),
    splits BIGINT NOT NULL CHECK (splits IN (0, 1)),
    note TEXT NOT NULL
);

-- What a lot holds beside motors.
CREATE TABLE lot_things (
    id TEXT NOT NULL PRIMARY KEY,
    version BIGINT NOT NULL CHECK (version = CAST(version AS BIGINT)),
    lot_id TEXT NOT NULL REFERENCES lots (id) DEFERRABLE INITIALLY DEFERRED,
    name TEXT NOT NULL,
    worth_low DOUBLE PRECISION NOT NULL CHECK (worth_low = CAST(worth_low AS DOUBLE PRECISION)),
    worth_likely DOUBLE PRECISION NOT NULL CHECK (worth_likely = CAST(worth_likely AS DOUBLE PRECISION)),
    worth_high DOUBLE PRECISION NOT NULL CHECK (worth_high = CAST(worth_high AS DOUBLE PRECISION)),
    chance DOUBLE PRECISION NOT NULL CHECK (chance = CAST(chance AS DOUBLE PRECISION)),
    kept BIGINT NOT NULL CHECK (kept IN (0, 1)),
    own_worth BIGINT NOT NULL CHECK (own_worth = CAST(own_worth AS BIGINT))
);
CREATE INDEX lot_things_by_lot ON lot_things (lot_id, id);

-- What buying the motor takes beside its price, where it is not the shop's usual.
ALTER TABLE motors ADD COLUMN fee_known BIGINT NOT NULL DEFAULT 0 CHECK (fee_known IN (0, 1));
ALTER TABLE motors ADD COLUMN buyer_fee BIGINT NOT NULL DEFAULT 0 CHECK (buyer_fee = CAST(buyer_fee AS BIGINT));
ALTER TABLE motors ADD COLUMN tax_known BIGINT NOT NULL DEFAULT 0 CHECK (tax_known IN (0, 1));
ALTER TABLE motors ADD COLUMN purchase_tax BIGINT NOT NULL DEFAULT 0 CHECK (purchase_tax = CAST(purchase_tax AS BIGINT));

-- What the seller can show.
ALTER TABLE motors ADD COLUMN signed_receipt TEXT NOT NULL DEFAULT '' CHECK (signed_receipt IN ('', 'yes', 'no'));
ALTER TABLE motors ADD COLUMN search TEXT NOT NULL DEFAULT '' CHECK (search IN ('', 'clear', 'found'));
ALTER TABLE motors ADD COLUMN searched_on TEXT NOT NULL DEFAULT '' CHECK (length(searched_on) IN (0, 10));
ALTER TABLE motors ADD COLUMN searched_at TEXT NOT NULL DEFAULT '';
ALTER TABLE motors ADD COLUMN search_reference TEXT NOT NULL DEFAULT '';
ALTER TABLE motors ADD COLUMN title TEXT NOT NULL DEFAULT '' CHECK (title IN ('', 'clear', 'doubt'));
ALTER TABLE motors ADD COLUMN title_note TEXT NOT NULL DEFAULT '';

-- Why it was passed over, and what it was seen to bring elsewhere.
ALTER TABLE motors ADD COLUMN passed_why TEXT NOT NULL DEFAULT ''
    CHECK (passed_why IN ('', 'price', 'condition', 'papers', 'gone', 'other'));
ALTER TABLE motors ADD COLUMN passed_note TEXT NOT NULL DEFAULT '';
ALTER TABLE motors ADD COLUMN passed_top BIGINT NOT NULL DEFAULT 0 CHECK (passed_top = CAST(passed_top AS BIGINT));
ALTER TABLE motors ADD COLUMN later_price BIGINT NOT NULL DEFAULT 0 CHECK (later_price = CAST(later_price AS BIGINT));
ALTER TABLE motors ADD COLUMN later_on TEXT NOT NULL DEFAULT '' CHECK (length(later_on) IN (0, 10));

ALTER TABLE motors ADD COLUMN lot_id TEXT REFERENCES lots (id) DEFERRABLE INITIALLY DEFERRED;
CREATE INDEX motors_by_lot ON motors (lot_id);

-- What a photo of a motor shows: its serial plate, or the receipt that its seller signed.
ALTER TABLE photos ADD COLUMN shows TEXT NOT NULL DEFAULT '' CHECK (shows IN ('', 'plate', 'signed'));

-- Which starting card a card is, whatever it is called by now.
ALTER TABLE cards ADD COLUMN starter TEXT NOT NULL DEFAULT '';

-- The shop's usual costs of buying and of waiting, and what it has room, time and money for.
ALTER TABLE settings ADD COLUMN buyer_fee_rate DOUBLE PRECISION NOT NULL DEFAULT 0
    CHECK (buyer_fee_rate = CAST(buyer_fee_rate AS DOUBLE PRECISION));
ALTER TABLE settings ADD COLUMN purchase_tax_rate DOUBLE PRECISION NOT NULL DEFAULT 0
    CHECK (purchase_tax_rate = CAST(purchase_tax_rate AS DOUBLE PRECISION));
ALTER TABLE settings ADD COLUMN cost_of_money DOUBLE PRECISION NOT NULL DEFAULT 0
    CHECK (cost_of_money = CAST(cost_of_money AS DOUBLE PRECISION));
ALTER TABLE settings ADD COLUMN space_a_day BIGINT NOT NULL DEFAULT 0 CHECK (space_a_day = CAST(space_a_day AS BIGINT));
ALTER TABLE settings ADD COLUMN hours_a_week DOUBLE PRECISION NOT NULL DEFAULT 0
    CHECK (hours_a_week = CAST(hours_a_week AS DOUBLE PRECISION));
ALTER TABLE settings ADD COLUMN places BIGINT NOT NULL DEFAULT 0 CHECK (places = CAST(places AS BIGINT));
ALTER TABLE settings ADD COLUMN cash BIGINT NOT NULL DEFAULT 0 CHECK (cash = CAST(cash AS BIGINT));
ALTER TABLE settings ADD COLUMN cash_counted_on TEXT NOT NULL DEFAULT '' CHECK (length(cash_counted_on) IN (0, 10));
ALTER TABLE settings ADD COLUMN season_from BIGINT NOT NULL DEFAULT 0 CHECK (season_from BETWEEN 0 AND 12);
ALTER TABLE settings ADD COLUMN season_to BIGINT NOT NULL DEFAULT 0 CHECK (season_to BETWEEN 0 AND 12);
ALTER TABLE settings ADD COLUMN looks_apart BIGINT NOT NULL DEFAULT 0 CHECK (looks_apart IN (0, 1));
