-- +goose Up
-- Bench work: job cards and the jobs they became on motors, snags, checks, photos, how a motor is kept
-- while it stands, and the worth of an own hour through time.

-- Repairs done again and again, with what they usually take.
CREATE TABLE cards (
    id TEXT NOT NULL PRIMARY KEY,
    version BIGINT NOT NULL CHECK (version = CAST(version AS BIGINT)),
    name TEXT NOT NULL,
    stroke TEXT NOT NULL CHECK (stroke IN ('', 'two', 'four')),
    per TEXT NOT NULL CHECK (per IN ('motor', 'cylinder', 'piece')),
    hours_low DOUBLE PRECISION NOT NULL CHECK (hours_low = CAST(hours_low AS DOUBLE PRECISION)),
    hours_likely DOUBLE PRECISION NOT NULL CHECK (hours_likely = CAST(hours_likely AS DOUBLE PRECISION)),
    hours_high DOUBLE PRECISION NOT NULL CHECK (hours_high = CAST(hours_high AS DOUBLE PRECISION)),
    parts_low DOUBLE PRECISION NOT NULL CHECK (parts_low = CAST(parts_low AS DOUBLE PRECISION)),
    parts_likely DOUBLE PRECISION NOT NULL CHECK (parts_likely = CAST(parts_likely AS DOUBLE PRECISION)),
    parts_high DOUBLE PRECISION NOT NULL CHECK (parts_high = CAST(parts_high AS DOUBLE PRECISION)),
    more_hours_low DOUBLE PRECISION NOT NULL CHECK (more_hours_low = CAST(more_hours_low AS DOUBLE PRECISION)),
    more_hours_likely DOUBLE PRECISION NOT NULL CHECK (more_hours_likely = CAST(more_hours_likely AS DOUBLE PRECISION)),
    more_hours_high DOUBLE PRECISION NOT NULL CHECK (more_hours_high = CAST(more_hours_high AS DOUBLE PRECISION)),
    more_parts_low DOUBLE PRECISION NOT NULL CHECK (more_parts_low = CAST(more_parts_low AS DOUBLE PRECISION)),
    more_parts_likely DOUBLE PRECISION NOT NULL CHECK (more_parts_likely = CAST(more_parts_likely AS DOUBLE PRECISION)),
    more_parts_high DOUBLE PRECISION NOT NULL CHECK (more_parts_high = CAST(more_parts_high AS DOUBLE PRECISION)),
    starting BIGINT NOT NULL CHECK (starting IN (0, 1)),
    note TEXT NOT NULL
);

-- What a card takes off the shelf.
CREATE TABLE card_draws (
    id TEXT NOT NULL PRIMARY KEY,
    version BIGINT NOT NULL CHECK (version = CAST(version AS BIGINT)),
    card_id TEXT NOT NULL REFERENCES cards (id) DEFERRABLE INITIALLY DEFERRED,
    good_id TEXT NOT NULL REFERENCES goods (id) DEFERRABLE INITIALLY DEFERRED,
    quantity DOUBLE PRECISION NOT NULL CHECK (quantity = CAST(quantity AS DOUBLE PRECISION)),
    unit TEXT NOT NULL
);
CREATE INDEX card_draws_by_card ON card_draws (card_id, id);
CREATE INDEX card_draws_by_good ON card_draws (good_id);

-- Cards put on motors, with the estimate as it stood on that day.
CREATE TABLE jobs (
    id TEXT NOT NULL PRIMARY KEY,
    version BIGINT NOT NULL CHECK (version = CAST(version AS BIGINT)),
    motor_id TEXT NOT NULL REFERENCES motors (id) DEFERRABLE INITIALLY DEFERRED,
    card_id TEXT REFERENCES cards (id) DEFERRABLE INITIALLY DEFERRED,
    name TEXT NOT NULL,
    pieces BIGINT NOT NULL CHECK (pieces = CAST(pieces AS BIGINT)),
    hours_low DOUBLE PRECISION NOT NULL CHECK (hours_low = CAST(hours_low AS DOUBLE PRECISION)),
    hours_likely DOUBLE PRECISION NOT NULL CHECK (hours_likely = CAST(hours_likely AS DOUBLE PRECISION)),
    hours_high DOUBLE PRECISION NOT NULL CHECK (hours_high = CAST(hours_high AS DOUBLE PRECISION)),
    parts_low DOUBLE PRECISION NOT NULL CHECK (parts_low = CAST(parts_low AS DOUBLE PRECISION)),
    parts_likely DOUBLE PRECISION NOT NULL CHECK (parts_likely = CAST(parts_likely AS DOUBLE PRECISION)),
    parts_high DOUBLE PRECISION NOT NULL CHECK (parts_high = CAST(parts_high AS DOUBLE PRECISION)),
    put_on TEXT NOT NULL CHECK (length(put_on) IN (0, 10)),
    done_on TEXT NOT NULL CHECK (length(done_on) IN (0, 10))
);
CREATE INDEX jobs_by_motor ON jobs (motor_id, id);
CREATE INDEX jobs_by_card ON jobs (card_id);

-- What each motor's money and time were for.
ALTER TABLE lines ADD COLUMN job_id TEXT REFERENCES jobs (id) DEFERRABLE INITIALLY DEFERRED;
ALTER TABLE sessions ADD COLUMN job_id TEXT REFERENCES jobs (id) DEFERRABLE INITIALLY DEFERRED;
CREATE INDEX lines_by_job ON lines (job_id);
CREATE INDEX sessions_by_job ON sessions (job_id);
ALTER TABLE clock ADD COLUMN job_id TEXT REFERENCES jobs (id) DEFERRABLE INITIALLY DEFERRED;
ALTER TABLE clock ADD COLUMN paid BIGINT NOT NULL DEFAULT 0 CHECK (paid IN (0, 1));
ALTER TABLE clock ADD COLUMN rate BIGINT NOT NULL DEFAULT 0 CHECK (rate = CAST(rate AS BIGINT));
ALTER TABLE clock ADD COLUMN kept_at BIGINT NOT NULL DEFAULT 0 CHECK (kept_at = CAST(kept_at AS BIGINT));
CREATE INDEX clock_by_job ON clock (job_id);

-- What still stands between a motor and the door.
CREATE TABLE snags (
    id TEXT NOT NULL PRIMARY KEY,
    version BIGINT NOT NULL CHECK (version = CAST(version AS BIGINT)),
    motor_id TEXT NOT NULL REFERENCES motors (id) DEFERRABLE INITIALLY DEFERRED,
    kind TEXT NOT NULL CHECK (kind IN ('to-do', 'missing', 'broken', 'waiting')),
    wording TEXT NOT NULL,
    waits_on TEXT NOT NULL,
    since TEXT NOT NULL CHECK (length(since) IN (0, 10)),
    done_on TEXT NOT NULL CHECK (length(done_on) IN (0, 10))
);
CREATE INDEX snags_by_motor ON snags (motor_id, id);

-- What was looked at or measured, before the work and after it.
CREATE TABLE checks (
    id TEXT NOT NULL PRIMARY KEY,
    version BIGINT NOT NULL CHECK (version = CAST(version AS BIGINT)),
    motor_id TEXT NOT NULL REFERENCES motors (id) DEFERRABLE INITIALLY DEFERRED,
    trial TEXT NOT NULL CHECK (trial IN (
        'plate', 'turns', 'spark', 'compression', 'leak-down', 'borescope', 'head-off', 'gear-oil',
        'lower-unit-pressure', 'shift-tilt', 'propeller-shaft', 'telltale', 'oil-injection', 'dipstick',
        'belt', 'fault-codes')),
    made TEXT NOT NULL CHECK (made IN ('before', 'after')),
    made_on TEXT NOT NULL CHECK (length(made_on) IN (0, 10)),
    verdict TEXT NOT NULL CHECK (verdict IN ('', 'pass', 'doubt', 'fail')),
    readings TEXT NOT NULL,
    heat TEXT NOT NULL CHECK (heat IN ('', 'cold', 'warm')),
    throttle TEXT NOT NULL CHECK (throttle IN ('', 'yes', 'no')),
    gauge TEXT NOT NULL,
    minutes DOUBLE PRECISION NOT NULL CHECK (minutes = CAST(minutes AS DOUBLE PRECISION)),
    note TEXT NOT NULL
);
CREATE INDEX checks_by_motor ON checks (motor_id, id);

-- The worth of an own hour from a day on; before the first it is the settings'.
CREATE TABLE rates (
    id TEXT NOT NULL PRIMARY KEY,
    version BIGINT NOT NULL CHECK (version = CAST(version AS BIGINT)),
    starts_on TEXT NOT NULL CHECK (length(starts_on) IN (0, 10)),
    rate BIGINT NOT NULL CHECK (rate = CAST(rate AS BIGINT))
);

-- Pictures as they are shown, in base 64: never changed, and no part of undo, which only takes their
-- photos away and brings them back.
CREATE TABLE pictures (
    id TEXT NOT NULL PRIMARY KEY,
    whole TEXT NOT NULL,
    small TEXT NOT NULL
);

-- Photos of motors and of receipts, in order. What a photo shows is the picture it names.
CREATE TABLE photos (
    id TEXT NOT NULL PRIMARY KEY,
    version BIGINT NOT NULL CHECK (version = CAST(version AS BIGINT)),
    motor_id TEXT REFERENCES motors (id) DEFERRABLE INITIALLY DEFERRED,
    kind TEXT NOT NULL CHECK (kind IN ('motor', 'receipt')),
    picture TEXT NOT NULL,
    place DOUBLE PRECISION NOT NULL CHECK (place = CAST(place AS DOUBLE PRECISION)),
    caption TEXT NOT NULL,
    taken_on TEXT NOT NULL CHECK (length(taken_on) IN (0, 10)),
    width BIGINT NOT NULL CHECK (width = CAST(width AS BIGINT)),
    height BIGINT NOT NULL CHECK (height = CAST(height AS BIGINT)),
    filed_on TEXT NOT NULL CHECK (length(filed_on) IN (0, 10))
);
CREATE INDEX photos_by_motor ON photos (motor_id, id);

-- How a motor stands in the shop.
ALTER TABLE motors ADD COLUMN weight_kg DOUBLE PRECISION NOT NULL DEFAULT 0
    CHECK (weight_kg = CAST(weight_kg AS DOUBLE PRECISION));
ALTER TABLE motors ADD COLUMN laid TEXT NOT NULL DEFAULT '' CHECK (laid IN ('', 'drained', 'winterised'));
ALTER TABLE motors ADD COLUMN laid_on TEXT NOT NULL DEFAULT '' CHECK (length(laid_on) IN (0, 10));

-- A core charge can be an item of a receipt.
DROP INDEX items_by_receipt;
DROP INDEX items_by_undone;
DROP INDEX items_by_motor;
DROP INDEX items_by_good;
ALTER TABLE items RENAME TO items_before;
CREATE TABLE items (
    id TEXT NOT NULL PRIMARY KEY,
    version BIGINT NOT NULL CHECK (version = CAST(version AS BIGINT)),
    receipt_id TEXT NOT NULL REFERENCES receipts (id) DEFERRABLE INITIALLY DEFERRED,
    undoes TEXT REFERENCES items (id) DEFERRABLE INITIALLY DEFERRED,
    goes TEXT NOT NULL CHECK (goes IN ('motor', 'core', 'shelf', 'piece', 'kept', 'expense', 'overhead')),
    came_on TEXT NOT NULL CHECK (length(came_on) IN (0, 10)),
    wording TEXT NOT NULL,
    quantity DOUBLE PRECISION NOT NULL CHECK (quantity = CAST(quantity AS DOUBLE PRECISION)),
    unit TEXT NOT NULL,
    net BIGINT NOT NULL CHECK (net = CAST(net AS BIGINT)),
    landed BIGINT NOT NULL CHECK (landed = CAST(landed AS BIGINT)),
    tax_back BIGINT NOT NULL CHECK (tax_back = CAST(tax_back AS BIGINT)),
    worth BIGINT NOT NULL CHECK (worth = CAST(worth AS BIGINT)),
    chance DOUBLE PRECISION NOT NULL CHECK (chance = CAST(chance AS DOUBLE PRECISION)),
    motor_id TEXT REFERENCES motors (id) DEFERRABLE INITIALLY DEFERRED,
    good_id TEXT REFERENCES goods (id) DEFERRABLE INITIALLY DEFERRED
);
CREATE INDEX items_by_receipt ON items (receipt_id, id);
CREATE INDEX items_by_undone ON items (undoes);
CREATE INDEX items_by_motor ON items (motor_id);
CREATE INDEX items_by_good ON items (good_id);
INSERT INTO items (id, version, receipt_id, undoes, goes, came_on, wording, quantity, unit, net, landed, tax_back, worth, chance, motor_id, good_id)
    SELECT id, version, receipt_id, undoes, goes, came_on, wording, quantity, unit, net, landed, tax_back, worth, chance, motor_id, good_id
    FROM items_before;
DROP TABLE items_before;
