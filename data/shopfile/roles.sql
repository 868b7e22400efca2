-- Two kinds of logins for a shop on a PostgreSQL server, each with no more rights than its work takes.
-- Run it once, in the database that is to hold the shop, as a role that may make roles:
--
--     psql -d DATABASE -v ON_ERROR_STOP=1 -f roles.sql
--
-- shop_owner makes the shop and brings it up to date after a new version of the program; nobody works with
-- it. Its first act is to make the shop, or to move one there:
--
--     skegworth move shop.skegworth 'postgres://shop_owner@SERVER/DATABASE?search_path=shop'
--
-- Each bench has a login of its own in the role shop_bench, which reads and writes the rows of the shop's
-- tables and can change nothing else: no tables, no other schema.
--
--     CREATE ROLE anna LOGIN IN ROLE shop_bench;
--     \password anna
--     skegworth open 'postgres://anna@SERVER/DATABASE?search_path=shop'
--
-- Passwords belong into a password file (~/.pgpass of the person) and not into the address. A second shop in
-- the same database takes another name in place of shop, for its schema and both roles.

CREATE ROLE shop_owner LOGIN; -- then: \password shop_owner
CREATE ROLE shop_bench NOLOGIN;

CREATE SCHEMA shop;
ALTER SCHEMA shop OWNER TO shop_owner;
REVOKE ALL ON SCHEMA shop FROM PUBLIC;
GRANT USAGE ON SCHEMA shop TO shop_bench;

-- What the owner makes from now on, now and at each later version of the program, the benches may use.
ALTER DEFAULT PRIVILEGES FOR ROLE shop_owner IN SCHEMA shop GRANT SELECT, INSERT, UPDATE, DELETE ON TABLES TO shop_bench;

-- By default everybody may make tables of their own: passing ones anywhere, and others in the schema public
-- of an older server.
REVOKE CREATE ON SCHEMA public FROM PUBLIC;
DO $$ BEGIN EXECUTE format('REVOKE TEMPORARY ON DATABASE %I FROM PUBLIC', current_database()); END $$;
