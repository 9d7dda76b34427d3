-- The roles and the database of a store whose rows are in PostgreSQL (14 or newer). Run once by an administrator of the
-- server:
--
--     psql -v ON_ERROR_STOP=1 -f postgres-roles.sql
--     psql -c '\password setupaudit'
--
-- Then, with Store.Postgres set to Host=...;Database=setupaudit;Username=setupaudit, now and after every upgrade that
-- asks for it:
--
--     setupaudit tables --config shop.json | psql -v ON_ERROR_STOP=1 -d setupaudit -c 'SET ROLE setupaudit_owner' -f -

-- Owns the tables and can build them. Nobody logs in as it.
CREATE ROLE setupaudit_owner NOLOGIN;

-- The service, and every command, connects as this one. It owns nothing: it may insert and read, and change only what
-- can be made again.
CREATE ROLE setupaudit LOGIN NOSUPERUSER NOCREATEDB NOCREATEROLE NOINHERIT;

CREATE DATABASE setupaudit OWNER setupaudit_owner ENCODING 'UTF8' TEMPLATE template0;

\connect setupaudit

REVOKE ALL ON DATABASE setupaudit FROM PUBLIC;
GRANT CONNECT ON DATABASE setupaudit TO setupaudit;
REVOKE ALL ON SCHEMA public FROM PUBLIC;
GRANT ALL ON SCHEMA public TO setupaudit_owner;
GRANT USAGE ON SCHEMA public TO setupaudit;
