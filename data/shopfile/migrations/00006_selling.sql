-- +goose Up
-- What selling leaves behind: each asking price with its day, offers received, holds with deposits, part
-- exchange, and what the listings say.

-- An asking price of nothing withdraws the motor from sale. A motor without any here was offered at the one
-- price and day of its own row.
CREATE TABLE asks (
    id TEXT NOT NULL PRIMARY KEY,
    version BIGINT NOT NULL CHECK (version = CAST(version AS BIGINT)),
    motor_id TEXT NOT NULL REFERENCES motors (id) DEFERRABLE INITIALLY DEFERRED,
    asked_on TEXT NOT NULL CHECK (length(asked_on) IN (0, 10)),
    ask BIGINT NOT NULL CHECK (ask = CAST(ask AS BIGINT)),
    offered_at TEXT NOT NULL,
    note TEXT NOT NULL
);
CREATE INDEX asks_by_motor ON asks (motor_id, id);

CREATE TABLE bids (
    id TEXT NOT NULL PRIMARY KEY,
    version BIGINT NOT NULL CHECK (version = CAST(version AS BIGINT)),
    motor_id TEXT NOT NULL REFERENCES motors (id) DEFERRABLE INITIALLY DEFERRED,
    made_on TEXT NOT NULL CHECK (length(made_on) IN (0, 10)),
    amount BIGINT NOT NULL CHECK (amount = CAST(amount AS BIGINT)),
    made_by TEXT NOT NULL,
    channel TEXT NOT NULL,
    trade TEXT NOT NULL,
    note TEXT NOT NULL,
    answer TEXT NOT NULL CHECK (answer IN ('', 'declined', 'accepted', 'lapsed')),
    answered_on TEXT NOT NULL CHECK (length(answered_on) IN (0, 10))
);
CREATE INDEX bids_by_motor ON bids (motor_id, id);

CREATE TABLE holds (
    id TEXT NOT NULL PRIMARY KEY,
    version BIGINT NOT NULL CHECK (version = CAST(version AS BIGINT)),
    motor_id TEXT NOT NULL REFERENCES motors (id) DEFERRABLE INITIALLY DEFERRED,
    taken_on TEXT NOT NULL CHECK (length(taken_on) IN (0, 10)),
    until_day TEXT NOT NULL CHECK (length(until_day) IN (0, 10)),
    buyer TEXT NOT NULL,
    contact TEXT NOT NULL,
    note TEXT NOT NULL,
    deposit BIGINT NOT NULL CHECK (deposit = CAST(deposit AS BIGINT)),
    paid_by TEXT NOT NULL CHECK (paid_by IN ('', 'cash', 'transfer', 'card', 'check', 'app', 'other')),
    cleared_on TEXT NOT NULL CHECK (length(cleared_on) IN (0, 10)),
    outcome TEXT NOT NULL CHECK (outcome IN ('', 'sold', 'no-show', 'returned')),
    settled_on TEXT NOT NULL CHECK (length(settled_on) IN (0, 10)),
    kept BIGINT NOT NULL CHECK (kept = CAST(kept AS BIGINT))
);
CREATE INDEX holds_by_motor ON holds (motor_id, id);

ALTER TABLE sales ADD COLUMN contact TEXT NOT NULL DEFAULT '';
ALTER TABLE sales ADD COLUMN with_controls BIGINT NOT NULL DEFAULT 0 CHECK (with_controls IN (0, 1));
ALTER TABLE sales ADD COLUMN with_propeller BIGINT NOT NULL DEFAULT 0 CHECK (with_propeller IN (0, 1));
ALTER TABLE sales ADD COLUMN with_tank BIGINT NOT NULL DEFAULT 0 CHECK (with_tank IN (0, 1));
ALTER TABLE sales ADD COLUMN with_harness BIGINT NOT NULL DEFAULT 0 CHECK (with_harness IN (0, 1));
ALTER TABLE sales ADD COLUMN with_other TEXT NOT NULL DEFAULT '';
ALTER TABLE sales ADD COLUMN freight BIGINT NOT NULL DEFAULT 0 CHECK (freight = CAST(freight AS BIGINT));
ALTER TABLE sales ADD COLUMN deposit BIGINT NOT NULL DEFAULT 0 CHECK (deposit = CAST(deposit AS BIGINT));
ALTER TABLE sales ADD COLUMN paid_by TEXT NOT NULL DEFAULT ''
    CHECK (paid_by IN ('', 'cash', 'transfer', 'card', 'check', 'app', 'other'));
ALTER TABLE sales ADD COLUMN cleared_on TEXT NOT NULL DEFAULT '' CHECK (length(cleared_on) IN (0, 10));

-- A motor taken in against the price.
ALTER TABLE sales ADD COLUMN taken_id TEXT REFERENCES motors (id) DEFERRABLE INITIALLY DEFERRED;
ALTER TABLE sales ADD COLUMN taken_allowed BIGINT NOT NULL DEFAULT 0 CHECK (taken_allowed = CAST(taken_allowed AS BIGINT));
ALTER TABLE sales ADD COLUMN taken_worth BIGINT NOT NULL DEFAULT 0 CHECK (taken_worth = CAST(taken_worth AS BIGINT));
CREATE INDEX sales_by_taken ON sales (taken_id);

-- Paid with a motor sold, not with money.
ALTER TABLE lines ADD COLUMN in_kind BIGINT NOT NULL DEFAULT 0 CHECK (in_kind IN (0, 1));

ALTER TABLE motors ADD COLUMN own_words TEXT NOT NULL DEFAULT '';
ALTER TABLE settings ADD COLUMN barred_waters TEXT NOT NULL DEFAULT '';
ALTER TABLE settings ADD COLUMN listing_end TEXT NOT NULL DEFAULT '';
