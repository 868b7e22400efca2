-- +goose Up
-- Stock and money: receipts with their freight and tax, things that are no motors, how the shelf is costed.
-- SQLite cannot change the words a column takes, so lines and moves are made anew around what they hold.
-- The new tables get their indexes while they are empty: PostgreSQL makes none on a table whose references
-- are still to be checked.

ALTER TABLE settings ADD COLUMN shelf_method TEXT NOT NULL DEFAULT ''
    CHECK (shelf_method IN ('', 'average', 'fifo'));
ALTER TABLE settings ADD COLUMN overhead TEXT NOT NULL DEFAULT ''
    CHECK (overhead IN ('', 'rate', 'pool'));
ALTER TABLE settings ADD COLUMN overhead_rate BIGINT NOT NULL DEFAULT 0
    CHECK (overhead_rate = CAST(overhead_rate AS BIGINT));

-- What was sold together for one price shares a package.
ALTER TABLE sales ADD COLUMN package TEXT NOT NULL DEFAULT '';

DROP INDEX lines_by_motor;
DROP INDEX lines_by_good;
DROP INDEX lines_by_undone;
ALTER TABLE lines RENAME TO lines_before;
CREATE TABLE lines (
    id TEXT NOT NULL PRIMARY KEY,
    version BIGINT NOT NULL CHECK (version = CAST(version AS BIGINT)),
    motor_id TEXT NOT NULL REFERENCES motors (id) DEFERRABLE INITIALLY DEFERRED,
    kind TEXT NOT NULL CHECK (kind IN (
        'purchase', 'purchase-tax', 'trip', 'freight-in', 'part-new', 'part-aftermarket', 'part-used',
        'part-donor', 'core-charge', 'core-lost', 'shelf', 'kit', 'outside', 'overhead', 'listing',
        'market-fee', 'delivery', 'comeback', 'refund', 'write-down')),
    spent_on TEXT NOT NULL CHECK (length(spent_on) IN (0, 10)),
    wording TEXT NOT NULL,
    quantity DOUBLE PRECISION NOT NULL CHECK (quantity = CAST(quantity AS DOUBLE PRECISION)),
    unit TEXT NOT NULL,
    unit_cost BIGINT NOT NULL CHECK (unit_cost = CAST(unit_cost AS BIGINT)),
    total BIGINT NOT NULL CHECK (total = CAST(total AS BIGINT)),
    supplier TEXT NOT NULL,
    good_id TEXT REFERENCES goods (id) DEFERRABLE INITIALLY DEFERRED,
    undoes TEXT REFERENCES lines (id) DEFERRABLE INITIALLY DEFERRED,
    due_on TEXT NOT NULL CHECK (length(due_on) IN (0, 10)),
    origin TEXT NOT NULL CHECK (origin IN ('', 'pool', 'rate'))
);
CREATE INDEX lines_by_motor ON lines (motor_id, id);
CREATE INDEX lines_by_good ON lines (good_id);
CREATE INDEX lines_by_undone ON lines (undoes);
INSERT INTO lines (id, version, motor_id, kind, spent_on, wording, quantity, unit, unit_cost, total, supplier, good_id, undoes, due_on, origin)
    SELECT id, version, motor_id, kind, spent_on, wording, quantity, unit, unit_cost, total, supplier, good_id, undoes, '', ''
    FROM lines_before;
DROP TABLE lines_before;

DROP INDEX moves_by_good;
DROP INDEX moves_by_motor;
ALTER TABLE moves RENAME TO moves_before;
CREATE TABLE moves (
    id TEXT NOT NULL PRIMARY KEY,
    version BIGINT NOT NULL CHECK (version = CAST(version AS BIGINT)),
    good_id TEXT NOT NULL REFERENCES goods (id) DEFERRABLE INITIALLY DEFERRED,
    motor_id TEXT REFERENCES motors (id) DEFERRABLE INITIALLY DEFERRED,
    kind TEXT NOT NULL CHECK (kind IN (
        'bought', 'drawn', 'counted', 'sent-back', 'put-back', 'taken-home', 'marked-down')),
    moved_on TEXT NOT NULL CHECK (length(moved_on) IN (0, 10)),
    quantity DOUBLE PRECISION NOT NULL CHECK (quantity = CAST(quantity AS DOUBLE PRECISION)),
    cost BIGINT NOT NULL CHECK (cost = CAST(cost AS BIGINT)),
    supplier TEXT NOT NULL,
    note TEXT NOT NULL,
    undoes TEXT REFERENCES moves (id) DEFERRABLE INITIALLY DEFERRED,
    method TEXT NOT NULL CHECK (method IN ('', 'average', 'fifo'))
);
CREATE INDEX moves_by_good ON moves (good_id, id);
CREATE INDEX moves_by_motor ON moves (motor_id);
CREATE INDEX moves_by_undone ON moves (undoes);
INSERT INTO moves (id, version, good_id, motor_id, kind, moved_on, quantity, cost, supplier, note, undoes, method)
    SELECT id, version, good_id, motor_id, kind, moved_on, quantity, cost, supplier, note, NULL, ''
    FROM moves_before;
DROP TABLE moves_before;

-- Purchases on one piece of paper: freight and tax are shared over the items by their prices.
CREATE TABLE receipts (
    id TEXT NOT NULL PRIMARY KEY,
    version BIGINT NOT NULL CHECK (version = CAST(version AS BIGINT)),
    supplier TEXT NOT NULL,
    bought_on TEXT NOT NULL CHECK (length(bought_on) IN (0, 10)),
    number TEXT NOT NULL,
    freight BIGINT NOT NULL CHECK (freight = CAST(freight AS BIGINT)),
    tax BIGINT NOT NULL CHECK (tax = CAST(tax AS BIGINT)),
    tax_back BIGINT NOT NULL CHECK (tax_back = CAST(tax_back AS BIGINT)),
    lot BIGINT NOT NULL CHECK (lot = CAST(lot AS BIGINT)),
    due_on TEXT NOT NULL CHECK (length(due_on) IN (0, 10)),
    paid_on TEXT NOT NULL CHECK (length(paid_on) IN (0, 10)),
    note TEXT NOT NULL
);

-- What stands on them. The line, move or piece that an item became has the item's key.
CREATE TABLE items (
    id TEXT NOT NULL PRIMARY KEY,
    version BIGINT NOT NULL CHECK (version = CAST(version AS BIGINT)),
    receipt_id TEXT NOT NULL REFERENCES receipts (id) DEFERRABLE INITIALLY DEFERRED,
    undoes TEXT REFERENCES items (id) DEFERRABLE INITIALLY DEFERRED,
    goes TEXT NOT NULL CHECK (goes IN ('motor', 'shelf', 'piece', 'kept', 'expense', 'overhead')),
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

-- Things that are neither motors nor many alike: parts on a donor, and what came with a lot.
CREATE TABLE pieces (
    id TEXT NOT NULL PRIMARY KEY,
    version BIGINT NOT NULL CHECK (version = CAST(version AS BIGINT)),
    donor_id TEXT REFERENCES motors (id) DEFERRABLE INITIALLY DEFERRED,
    name TEXT NOT NULL,
    worth BIGINT NOT NULL CHECK (worth = CAST(worth AS BIGINT)),
    chance DOUBLE PRECISION NOT NULL CHECK (chance = CAST(chance AS DOUBLE PRECISION)),
    cost BIGINT NOT NULL CHECK (cost = CAST(cost AS BIGINT)),
    came_on TEXT NOT NULL CHECK (length(came_on) IN (0, 10)),
    fate TEXT NOT NULL CHECK (fate IN ('', 'fitted', 'sold', 'kept', 'lost')),
    left_on TEXT NOT NULL CHECK (length(left_on) IN (0, 10)),
    motor_id TEXT REFERENCES motors (id) DEFERRABLE INITIALLY DEFERRED,
    price BIGINT NOT NULL CHECK (price = CAST(price AS BIGINT)),
    fee BIGINT NOT NULL CHECK (fee = CAST(fee AS BIGINT)),
    channel TEXT NOT NULL,
    buyer TEXT NOT NULL,
    package TEXT NOT NULL,
    note TEXT NOT NULL
);
CREATE INDEX pieces_by_donor ON pieces (donor_id, id);
CREATE INDEX pieces_by_motor ON pieces (motor_id);
