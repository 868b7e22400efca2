-- +goose Up
-- What a motor is thought to have, in chances of ten tapped by hand, and the lines it has to meet by itself.

CREATE TABLE chances (
    id TEXT NOT NULL PRIMARY KEY,
    version BIGINT NOT NULL CHECK (version = CAST(version AS BIGINT)),
    motor_id TEXT NOT NULL REFERENCES motors (id) DEFERRABLE INITIALLY DEFERRED,
    doubt TEXT NOT NULL CHECK (doubt IN ('powerhead', 'lower-unit')),
    answer TEXT NOT NULL CHECK (answer IN ('sound', 'ignition', 'gasket', 'top-end', 'finished', 'seals', 'gears')),
    tenths BIGINT NOT NULL CHECK (tenths BETWEEN 0 AND 10)
);
CREATE INDEX chances_by_motor ON chances (motor_id, id);

ALTER TABLE motors ADD COLUMN own_lines BIGINT NOT NULL DEFAULT 0 CHECK (own_lines IN (0, 1));
ALTER TABLE motors ADD COLUMN line_profit BIGINT NOT NULL DEFAULT 0 CHECK (line_profit = CAST(line_profit AS BIGINT));
ALTER TABLE motors ADD COLUMN line_per_hour BIGINT NOT NULL DEFAULT 0 CHECK (line_per_hour = CAST(line_per_hour AS BIGINT));
ALTER TABLE motors ADD COLUMN line_risk DOUBLE PRECISION NOT NULL DEFAULT 0
    CHECK (line_risk = CAST(line_risk AS DOUBLE PRECISION));
