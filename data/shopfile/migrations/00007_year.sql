-- +goose Up
-- What a year's figures rest on beside the records: how sales are taxed from which day, years that were
-- closed, money passed on, motors of others, and what the owner put in.

CREATE TABLE tax_rules (
    id TEXT NOT NULL PRIMARY KEY,
    version BIGINT NOT NULL CHECK (version = CAST(version AS BIGINT)),
    starts_on TEXT NOT NULL CHECK (length(starts_on) IN (0, 10)),
    scheme TEXT NOT NULL CHECK (scheme IN ('none', 'added', 'margin')),
    rate DOUBLE PRECISION NOT NULL CHECK (rate = CAST(rate AS DOUBLE PRECISION))
);
ALTER TABLE sales ADD COLUMN tax_scheme TEXT NOT NULL DEFAULT '' CHECK (tax_scheme IN ('', 'none', 'added', 'margin'));

-- Bought so that the margin scheme for second-hand goods may be used for it.
ALTER TABLE motors ADD COLUMN margin_goods TEXT NOT NULL DEFAULT '' CHECK (margin_goods IN ('', 'yes', 'no'));

-- The figures of a closed year as they stood, in words, with their digest. One that was opened again stays.
CREATE TABLE closings (
    id TEXT NOT NULL PRIMARY KEY,
    version BIGINT NOT NULL CHECK (version = CAST(version AS BIGINT)),
    starts_on TEXT NOT NULL CHECK (length(starts_on) IN (0, 10)),
    ends_on TEXT NOT NULL CHECK (length(ends_on) IN (0, 10)),
    closed_on TEXT NOT NULL CHECK (length(closed_on) IN (0, 10)),
    figures TEXT NOT NULL,
    digest TEXT NOT NULL,
    opened_on TEXT NOT NULL CHECK (length(opened_on) IN (0, 10)),
    reason TEXT NOT NULL
);

-- Money passed on that is nobody's cost: tax on sales, and what the owners of motors sold for them are due.
CREATE TABLE settlements (
    id TEXT NOT NULL PRIMARY KEY,
    version BIGINT NOT NULL CHECK (version = CAST(version AS BIGINT)),
    kind TEXT NOT NULL CHECK (kind IN ('tax', 'owner')),
    paid_on TEXT NOT NULL CHECK (length(paid_on) IN (0, 10)),
    amount BIGINT NOT NULL CHECK (amount = CAST(amount AS BIGINT)),
    motor_id TEXT REFERENCES motors (id) DEFERRABLE INITIALLY DEFERRED,
    note TEXT NOT NULL
);
CREATE INDEX settlements_by_motor ON settlements (motor_id);

-- A motor of somebody else's, sold for a commission; one of the shop's own that stands elsewhere to be sold.
ALTER TABLE motors ADD COLUMN owner TEXT NOT NULL DEFAULT '';
ALTER TABLE motors ADD COLUMN owner_contact TEXT NOT NULL DEFAULT '';
ALTER TABLE motors ADD COLUMN commission_rate DOUBLE PRECISION NOT NULL DEFAULT 0 CHECK (commission_rate = CAST(commission_rate AS DOUBLE PRECISION));
ALTER TABLE motors ADD COLUMN commission BIGINT NOT NULL DEFAULT 0 CHECK (commission = CAST(commission AS BIGINT));
ALTER TABLE motors ADD COLUMN away_at TEXT NOT NULL DEFAULT '';

-- Put in by the owner of the shop, at what it was worth: nobody was paid for it.
ALTER TABLE lines ADD COLUMN from_owner BIGINT NOT NULL DEFAULT 0 CHECK (from_owner IN (0, 1));
ALTER TABLE moves ADD COLUMN from_owner BIGINT NOT NULL DEFAULT 0 CHECK (from_owner IN (0, 1));
ALTER TABLE pieces ADD COLUMN from_owner BIGINT NOT NULL DEFAULT 0 CHECK (from_owner IN (0, 1));
