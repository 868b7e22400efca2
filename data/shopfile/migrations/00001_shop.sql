-- +goose Up
-- The shop file's first schema. It is written in what SQLite and PostgreSQL have in common: text keys,
-- whole minor units in BIGINT, days as ISO text, references checked at the end of a transaction. SQLite
-- keeps whatever it is given in a column, so every number carries a CHECK that it is one.

-- The shop's own choices: at most one row.
CREATE TABLE settings (
    id TEXT NOT NULL PRIMARY KEY CHECK (id = 'shop'),
    version BIGINT NOT NULL CHECK (version = CAST(version AS BIGINT)),
    shop_name TEXT NOT NULL,
    currency TEXT NOT NULL,
    language TEXT NOT NULL,
    anchor BIGINT NOT NULL CHECK (anchor = CAST(anchor AS BIGINT)),
    half_life DOUBLE PRECISION NOT NULL CHECK (half_life = CAST(half_life AS DOUBLE PRECISION)),
    own_rate BIGINT NOT NULL CHECK (own_rate = CAST(own_rate AS BIGINT)),
    profit BIGINT NOT NULL CHECK (profit = CAST(profit AS BIGINT)),
    per_hour BIGINT NOT NULL CHECK (per_hour = CAST(per_hour AS BIGINT)),
    risk DOUBLE PRECISION NOT NULL CHECK (risk = CAST(risk AS DOUBLE PRECISION)),
    fee_rate DOUBLE PRECISION NOT NULL CHECK (fee_rate = CAST(fee_rate AS DOUBLE PRECISION)),
    trip_rate BIGINT NOT NULL CHECK (trip_rate = CAST(trip_rate AS BIGINT)),
    distance TEXT NOT NULL,
    volume TEXT NOT NULL,
    pressure TEXT NOT NULL,
    power_unit TEXT NOT NULL,
    fiscal_month BIGINT NOT NULL CHECK (fiscal_month = CAST(fiscal_month AS BIGINT))
);

-- Every motor the shop has seen: what it is, where it stands, what is planned for it.
CREATE TABLE motors (
    id TEXT NOT NULL PRIMARY KEY,
    version BIGINT NOT NULL CHECK (version = CAST(version AS BIGINT)),
    stage TEXT NOT NULL CHECK (stage IN (
        'prospect', 'passed', 'bench', 'finished', 'listed', 'sold', 'broken', 'kept', 'lost', 'history')),
    make TEXT NOT NULL,
    model TEXT NOT NULL,
    power DOUBLE PRECISION NOT NULL CHECK (power = CAST(power AS DOUBLE PRECISION)),
    power_about BIGINT NOT NULL CHECK (power_about IN (0, 1)),
    old_rating BIGINT NOT NULL CHECK (old_rating IN (0, 1)),
    year BIGINT NOT NULL CHECK (year = CAST(year AS BIGINT)),
    year_about BIGINT NOT NULL CHECK (year_about IN (0, 1)),
    stroke TEXT NOT NULL CHECK (stroke IN ('', 'two', 'four')),
    state TEXT NOT NULL CHECK (state IN ('', 'parts', 'dead', 'runs', 'serviced', 'rebuilt')),
    cylinders BIGINT NOT NULL CHECK (cylinders = CAST(cylinders AS BIGINT)),
    fuel TEXT NOT NULL CHECK (fuel IN ('', 'carburettor', 'injected', 'direct')),
    shaft BIGINT NOT NULL CHECK (shaft = CAST(shaft AS BIGINT)),
    starting TEXT NOT NULL CHECK (starting IN ('', 'pull', 'electric')),
    lift TEXT NOT NULL CHECK (lift IN ('', 'manual', 'assist', 'power')),
    steering TEXT NOT NULL CHECK (steering IN ('', 'tiller', 'remote')),
    water TEXT NOT NULL CHECK (water IN ('', 'fresh', 'salt', 'mixed')),
    hours DOUBLE PRECISION NOT NULL CHECK (hours = CAST(hours AS DOUBLE PRECISION)),
    hours_known BIGINT NOT NULL CHECK (hours_known IN (0, 1)),
    looks BIGINT NOT NULL CHECK (looks = CAST(looks AS BIGINT)) CHECK (looks BETWEEN 0 AND 5),
    compression TEXT NOT NULL,
    turns TEXT NOT NULL CHECK (turns IN ('', 'yes', 'no')),
    oil TEXT NOT NULL CHECK (oil IN ('', 'none', 'working', 'removed')),
    submerged TEXT NOT NULL CHECK (submerged IN ('', 'yes', 'no')),
    lower_unit TEXT NOT NULL CHECK (lower_unit IN ('', 'yes', 'no')),
    welded TEXT NOT NULL CHECK (welded IN ('', 'yes', 'no')),
    parts_supplied TEXT NOT NULL CHECK (parts_supplied IN ('', 'yes', 'no')),
    plate TEXT NOT NULL CHECK (plate IN ('', 'yes', 'no')),
    shown_running TEXT NOT NULL CHECK (shown_running IN ('', 'yes', 'no')),
    controls TEXT NOT NULL CHECK (controls IN ('', 'yes', 'no')),
    propeller TEXT NOT NULL CHECK (propeller IN ('', 'yes', 'no')),
    tank TEXT NOT NULL CHECK (tank IN ('', 'yes', 'no')),
    helm TEXT NOT NULL CHECK (helm IN ('', 'yes', 'no')),
    warranty_days BIGINT NOT NULL CHECK (warranty_days = CAST(warranty_days AS BIGINT)),
    bracket_number TEXT NOT NULL,
    powerhead_number TEXT NOT NULL,
    how_known TEXT NOT NULL,
    tag TEXT NOT NULL,
    stand TEXT NOT NULL,
    note TEXT NOT NULL,
    seen_on TEXT NOT NULL CHECK (length(seen_on) IN (0, 10)),
    seller_asks BIGINT NOT NULL CHECK (seller_asks = CAST(seller_asks AS BIGINT)),
    seller TEXT NOT NULL,
    source TEXT NOT NULL,
    bought_on TEXT NOT NULL CHECK (length(bought_on) IN (0, 10)),
    finished_on TEXT NOT NULL CHECK (length(finished_on) IN (0, 10)),
    listed_on TEXT NOT NULL CHECK (length(listed_on) IN (0, 10)),
    ask BIGINT NOT NULL CHECK (ask = CAST(ask AS BIGINT)),
    left_on TEXT NOT NULL CHECK (length(left_on) IN (0, 10)),
    plan_state TEXT NOT NULL CHECK (plan_state IN ('', 'parts', 'dead', 'runs', 'serviced', 'rebuilt')),
    plan_parts_low DOUBLE PRECISION NOT NULL CHECK (plan_parts_low = CAST(plan_parts_low AS DOUBLE PRECISION)),
    plan_parts_likely DOUBLE PRECISION NOT NULL CHECK (plan_parts_likely = CAST(plan_parts_likely AS DOUBLE PRECISION)),
    plan_parts_high DOUBLE PRECISION NOT NULL CHECK (plan_parts_high = CAST(plan_parts_high AS DOUBLE PRECISION)),
    plan_hours_low DOUBLE PRECISION NOT NULL CHECK (plan_hours_low = CAST(plan_hours_low AS DOUBLE PRECISION)),
    plan_hours_likely DOUBLE PRECISION NOT NULL CHECK (plan_hours_likely = CAST(plan_hours_likely AS DOUBLE PRECISION)),
    plan_hours_high DOUBLE PRECISION NOT NULL CHECK (plan_hours_high = CAST(plan_hours_high AS DOUBLE PRECISION)),
    plan_selling BIGINT NOT NULL CHECK (plan_selling = CAST(plan_selling AS BIGINT)),
    plan_trip DOUBLE PRECISION NOT NULL CHECK (plan_trip = CAST(plan_trip AS DOUBLE PRECISION)),
    plan_days BIGINT NOT NULL CHECK (plan_days = CAST(plan_days AS BIGINT))
);

-- What is kept on the shelf, each kind interchangeable within itself.
CREATE TABLE goods (
    id TEXT NOT NULL PRIMARY KEY,
    version BIGINT NOT NULL CHECK (version = CAST(version AS BIGINT)),
    name TEXT NOT NULL,
    unit TEXT NOT NULL,
    reorder DOUBLE PRECISION NOT NULL CHECK (reorder = CAST(reorder AS DOUBLE PRECISION)),
    note TEXT NOT NULL
);

-- What was spent on each motor.
CREATE TABLE lines (
    id TEXT NOT NULL PRIMARY KEY,
    version BIGINT NOT NULL CHECK (version = CAST(version AS BIGINT)),
    motor_id TEXT NOT NULL REFERENCES motors (id) DEFERRABLE INITIALLY DEFERRED,
    kind TEXT NOT NULL CHECK (kind IN (
        'purchase', 'purchase-tax', 'trip', 'freight-in', 'part-new', 'part-aftermarket', 'part-used',
        'part-donor', 'core-charge', 'shelf', 'kit', 'outside', 'overhead', 'listing', 'market-fee',
        'delivery', 'comeback', 'refund')),
    spent_on TEXT NOT NULL CHECK (length(spent_on) IN (0, 10)),
    wording TEXT NOT NULL,
    quantity DOUBLE PRECISION NOT NULL CHECK (quantity = CAST(quantity AS DOUBLE PRECISION)),
    unit TEXT NOT NULL,
    unit_cost BIGINT NOT NULL CHECK (unit_cost = CAST(unit_cost AS BIGINT)),
    total BIGINT NOT NULL CHECK (total = CAST(total AS BIGINT)),
    supplier TEXT NOT NULL,
    good_id TEXT REFERENCES goods (id) DEFERRABLE INITIALLY DEFERRED,
    undoes TEXT REFERENCES lines (id) DEFERRABLE INITIALLY DEFERRED
);
CREATE INDEX lines_by_motor ON lines (motor_id, id);
CREATE INDEX lines_by_good ON lines (good_id);
CREATE INDEX lines_by_undone ON lines (undoes);

-- Time worked on each motor.
CREATE TABLE sessions (
    id TEXT NOT NULL PRIMARY KEY,
    version BIGINT NOT NULL CHECK (version = CAST(version AS BIGINT)),
    motor_id TEXT NOT NULL REFERENCES motors (id) DEFERRABLE INITIALLY DEFERRED,
    worked_on TEXT NOT NULL CHECK (length(worked_on) IN (0, 10)),
    minutes BIGINT NOT NULL CHECK (minutes = CAST(minutes AS BIGINT)),
    task TEXT NOT NULL,
    paid BIGINT NOT NULL CHECK (paid IN (0, 1)),
    rate BIGINT NOT NULL CHECK (rate = CAST(rate AS BIGINT))
);
CREATE INDEX sessions_by_motor ON sessions (motor_id, id);

-- How motors left for money: one sale a motor, and one motor an imported row.
CREATE TABLE sales (
    id TEXT NOT NULL PRIMARY KEY,
    version BIGINT NOT NULL CHECK (version = CAST(version AS BIGINT)),
    motor_id TEXT NOT NULL REFERENCES motors (id) DEFERRABLE INITIALLY DEFERRED,
    sold_on TEXT NOT NULL CHECK (length(sold_on) IN (0, 10)),
    price BIGINT NOT NULL CHECK (price = CAST(price AS BIGINT)),
    channel TEXT NOT NULL,
    buyer TEXT NOT NULL,
    note TEXT NOT NULL,
    left_out BIGINT NOT NULL CHECK (left_out IN (0, 1)),
    left_out_why TEXT NOT NULL,
    source TEXT NOT NULL
);
CREATE UNIQUE INDEX sales_by_motor ON sales (motor_id);
CREATE UNIQUE INDEX sales_by_source ON sales (source) WHERE source <> '';

-- What happened to the goods on the shelf.
CREATE TABLE moves (
    id TEXT NOT NULL PRIMARY KEY,
    version BIGINT NOT NULL CHECK (version = CAST(version AS BIGINT)),
    good_id TEXT NOT NULL REFERENCES goods (id) DEFERRABLE INITIALLY DEFERRED,
    motor_id TEXT REFERENCES motors (id) DEFERRABLE INITIALLY DEFERRED,
    kind TEXT NOT NULL CHECK (kind IN ('bought', 'drawn', 'counted')),
    moved_on TEXT NOT NULL CHECK (length(moved_on) IN (0, 10)),
    quantity DOUBLE PRECISION NOT NULL CHECK (quantity = CAST(quantity AS DOUBLE PRECISION)),
    cost BIGINT NOT NULL CHECK (cost = CAST(cost AS BIGINT)),
    supplier TEXT NOT NULL,
    note TEXT NOT NULL
);
CREATE INDEX moves_by_good ON moves (good_id, id);
CREATE INDEX moves_by_motor ON moves (motor_id);

-- The running stopwatch: at most one row.
CREATE TABLE clock (
    id TEXT NOT NULL PRIMARY KEY CHECK (id = 'clock'),
    version BIGINT NOT NULL CHECK (version = CAST(version AS BIGINT)),
    motor_id TEXT REFERENCES motors (id) DEFERRABLE INITIALLY DEFERRED,
    task TEXT NOT NULL,
    started_at BIGINT NOT NULL CHECK (started_at = CAST(started_at AS BIGINT))
);
CREATE INDEX clock_by_motor ON clock (motor_id);

-- Window size, column widths and the like: kept with the records, never part of undo.
CREATE TABLE preferences (
    name TEXT NOT NULL PRIMARY KEY,
    setting TEXT NOT NULL
);

-- The undo log. A step is what one press of undo takes back; a change is what it did to one row, as the
-- row was before ('' for none) and after ('' for gone), in JSON without what is zero or empty.
CREATE TABLE steps (
    n BIGINT NOT NULL PRIMARY KEY CHECK (n = CAST(n AS BIGINT)),
    label TEXT NOT NULL,
    merge_key TEXT NOT NULL,
    written_at BIGINT NOT NULL CHECK (written_at = CAST(written_at AS BIGINT)),
    undone BIGINT NOT NULL CHECK (undone IN (0, 1))
);
CREATE TABLE changes (
    step BIGINT NOT NULL REFERENCES steps (n) DEFERRABLE INITIALLY DEFERRED,
    table_name TEXT NOT NULL,
    row_id TEXT NOT NULL,
    was TEXT NOT NULL,
    became TEXT NOT NULL,
    PRIMARY KEY (step, table_name, row_id)
);

-- The last version of each row that is gone. One that comes back goes on counting from there.
CREATE TABLE gone (
    table_name TEXT NOT NULL,
    row_id TEXT NOT NULL,
    version BIGINT NOT NULL CHECK (version = CAST(version AS BIGINT)),
    PRIMARY KEY (table_name, row_id)
);
