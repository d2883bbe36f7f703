#!/bin/sh
# Once, when the database is new: a user for the service that owns its database, may make the two roles that row-level
# security binds, and is no superuser.
set -eu
psql --set ON_ERROR_STOP=1 --set password="$EVENGROUND_PASSWORD" --username "${POSTGRES_USER:-postgres}" <<'SQL'
CREATE ROLE evenground LOGIN CREATEROLE PASSWORD :'password';
CREATE DATABASE evenground OWNER evenground;
SQL
