/**
 * The tables of the archive, version by version, as those of the local record (`../store/migrations.ts`):
 * each entry brings a database from the version before it to its own, and is never changed once released.
 * Times are ms since the epoch, as doubles.
 *
 * What a visit is made of stands in `part`, as the van has sent it, by version; the other tables hold what
 * is asked about units, types and probes over the years. All of these are partitioned by the month (UTC) in
 * which the visit began. Who may see and change what is said here, by row: the server only says who asks
 * (`database.ts`).
 */

/** Tables that are partitioned by month, with what makes a row of a visit's version one. */
const BY_MONTH = ['version', 'part', 'capture', 'verdict', 'airflow', 'probe_check', 'baseline'];
const OF_VERSION = BY_MONTH.filter((table) => table !== 'version');
/** Those whose rows are each of one visit. */
const OF_VISIT = ['visit_unit', 'photo', ...BY_MONTH];
/** Tables that a visit of a van brings rows into. */
const SENT = ['visit', ...OF_VISIT, 'incoming'];
/** What readers see; and what is the office's own. */
const READ = ['van', 'site', 'unit', 'probe', 'visit', ...OF_VISIT];
const OFFICE = ['van', 'token', 'site', 'unit', 'alias', 'probe', 'audit'];

const each = (tables: readonly string[], of: (table: string) => string): string =>
  tables.map(of).join('\n');

const OF = `month date NOT NULL, visit bigint NOT NULL, n integer NOT NULL`;
const OF_THIS = `van text NOT NULL, FOREIGN KEY (month, visit, n) REFERENCES version ON DELETE CASCADE`;
/** Whose rows a role sees: what the transaction says of who asks. */
const OWN = `van = current_setting('plateau.van', true)`;

export const MIGRATIONS: readonly string[] = [
  `
CREATE TABLE van (
  id text PRIMARY KEY,
  name text NOT NULL,
  made_t double precision NOT NULL
);
CREATE TABLE token (
  id text PRIMARY KEY,
  role text NOT NULL CHECK (role IN ('reader', 'van', 'owner')),
  van text REFERENCES van,
  name text NOT NULL,
  hash bytea NOT NULL UNIQUE,
  made_t double precision NOT NULL,
  withdrawn_t double precision,
  CHECK ((role = 'van') = (van IS NOT NULL))
);
CREATE TABLE site (
  key bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
  title text NOT NULL,
  address text NOT NULL,
  erased_t double precision
);
CREATE TABLE unit (
  key bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
  site bigint NOT NULL REFERENCES site,
  name text NOT NULL,
  model text NOT NULL,
  form text NOT NULL,
  serial text NOT NULL
);
CREATE INDEX unit_model ON unit (model);
CREATE INDEX unit_site ON unit (site);
-- By what a unit or a site is known again: hashes of what was said of it.
CREATE TABLE alias (
  hash bytea PRIMARY KEY,
  unit bigint REFERENCES unit ON DELETE CASCADE,
  site bigint REFERENCES site ON DELETE CASCADE
);
CREATE INDEX alias_unit ON alias (unit);
CREATE INDEX alias_site ON alias (site);
CREATE TABLE probe (
  id text PRIMARY KEY,
  name text NOT NULL,
  serial text NOT NULL,
  calibrated_t double precision
);
CREATE TABLE visit (
  key bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
  van text NOT NULL REFERENCES van,
  id text NOT NULL,
  site bigint NOT NULL REFERENCES site,
  kind text NOT NULL,
  title text NOT NULL,
  address text NOT NULL,
  customer text NOT NULL,
  technician text NOT NULL,
  why text NOT NULL,
  units text[] NOT NULL,
  captures integer NOT NULL,
  begun_t double precision,
  last_t double precision,
  n integer NOT NULL,
  erased_t double precision,
  words text NOT NULL GENERATED ALWAYS AS (lower(title || ' ' || address || ' ' || customer || ' ' ||
    technician || ' ' || why)) STORED,
  UNIQUE (van, id)
);
CREATE INDEX visit_begun ON visit (begun_t DESC);
CREATE INDEX visit_site ON visit (site);
-- Which unit of the archive a visit's unit is.
CREATE TABLE visit_unit (
  visit bigint NOT NULL REFERENCES visit ON DELETE CASCADE,
  id text NOT NULL,
  unit bigint NOT NULL REFERENCES unit,
  van text NOT NULL,
  PRIMARY KEY (visit, id)
);
CREATE INDEX visit_unit_unit ON visit_unit (unit);
CREATE TABLE photo (
  id text NOT NULL,
  visit bigint NOT NULL REFERENCES visit ON DELETE CASCADE,
  van text NOT NULL,
  PRIMARY KEY (id, visit)
);
CREATE INDEX photo_visit ON photo (visit);

CREATE TABLE version (
  ${OF},
  van text NOT NULL,
  hash bytea NOT NULL,
  bytes bigint NOT NULL,
  readings bigint NOT NULL,
  taken_t double precision NOT NULL,
  current boolean NOT NULL DEFAULT true,
  FOREIGN KEY (visit) REFERENCES visit ON DELETE CASCADE,
  PRIMARY KEY (month, visit, n)
) PARTITION BY RANGE (month);
CREATE INDEX version_visit ON version (visit, n);
CREATE TABLE part (
  ${OF},
  i integer NOT NULL,
  kind "char" NOT NULL,
  data bytea NOT NULL,
  ${OF_THIS},
  PRIMARY KEY (month, visit, n, i)
) PARTITION BY RANGE (month);
CREATE TABLE capture (
  ${OF},
  unit bigint NOT NULL,
  from_t double precision NOT NULL,
  to_t double precision NOT NULL,
  made_by text NOT NULL,
  state text NOT NULL,
  total_w double precision NOT NULL,
  total_u95_w double precision,
  sensible_w double precision NOT NULL,
  latent_w double precision,
  fan text,
  flow_m3s double precision,
  struck boolean NOT NULL,
  current boolean NOT NULL DEFAULT true,
  ${OF_THIS}
) PARTITION BY RANGE (month);
CREATE INDEX capture_unit ON capture (unit, to_t) WHERE current;
CREATE TABLE verdict (
  ${OF},
  unit bigint NOT NULL,
  model text NOT NULL,
  to_t double precision NOT NULL,
  made_by text NOT NULL,
  mode text NOT NULL,
  verdict text NOT NULL,
  expected_w double precision NOT NULL,
  ratio double precision NOT NULL,
  ratio_u95 double precision NOT NULL,
  probability double precision NOT NULL,
  current boolean NOT NULL DEFAULT true,
  ${OF_THIS}
) PARTITION BY RANGE (month);
CREATE INDEX verdict_unit ON verdict (unit, to_t) WHERE current;
CREATE INDEX verdict_model ON verdict (model, mode, unit, to_t) INCLUDE (ratio, ratio_u95, verdict)
  WHERE current;
CREATE TABLE airflow (
  ${OF},
  unit bigint NOT NULL,
  model text NOT NULL,
  t double precision NOT NULL,
  method text NOT NULL,
  fan text NOT NULL,
  wetness double precision NOT NULL,
  flow_m3s double precision NOT NULL,
  u95_m3s double precision NOT NULL,
  current boolean NOT NULL DEFAULT true,
  ${OF_THIS}
) PARTITION BY RANGE (month);
CREATE INDEX airflow_unit ON airflow (unit, t) WHERE current;
CREATE INDEX airflow_model ON airflow (model, fan, unit, t) INCLUDE (flow_m3s, u95_m3s) WHERE current;
-- One row a probe of a check.
CREATE TABLE probe_check (
  ${OF},
  probe text NOT NULL,
  t double precision NOT NULL,
  others text[] NOT NULL,
  offset_c double precision,
  u_c double precision,
  offset_pct double precision,
  u_pct double precision,
  agrees boolean,
  current boolean NOT NULL DEFAULT true,
  ${OF_THIS}
) PARTITION BY RANGE (month);
CREATE INDEX probe_check_probe ON probe_check (probe, t) WHERE current;
CREATE TABLE baseline (
  ${OF},
  unit bigint NOT NULL,
  t double precision NOT NULL,
  total_w double precision,
  flow_m3s double precision,
  u95 double precision,
  current boolean NOT NULL DEFAULT true,
  ${OF_THIS}
) PARTITION BY RANGE (month);
CREATE INDEX baseline_unit ON baseline (unit, t) WHERE current;
${each(OF_VERSION, (table) => (table === 'part' ? '' : `CREATE INDEX ${table}_visit ON ${table} (visit, n);`))}
-- What has come of a visit that is not whole. A crash may lose it: the van sends it again.
CREATE UNLOGGED TABLE incoming (
  van text NOT NULL,
  visit text NOT NULL,
  hash bytea NOT NULL,
  at bigint NOT NULL,
  come_t double precision NOT NULL,
  data bytea NOT NULL,
  PRIMARY KEY (van, visit, hash, at)
);
CREATE TABLE audit (
  n bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
  t timestamptz NOT NULL DEFAULT clock_timestamp(),
  who text NOT NULL,
  did text NOT NULL,
  what text NOT NULL
);
-- What is packed already is not packed again.
ALTER TABLE part ALTER data SET STORAGE EXTERNAL;
ALTER TABLE incoming ALTER data SET STORAGE EXTERNAL;

CREATE FUNCTION keep_month(of date) RETURNS void LANGUAGE plpgsql SECURITY DEFINER
SET search_path = plateau, pg_temp AS $$
DECLARE
  name text;
  missing text[] := ARRAY(SELECT x FROM unnest(ARRAY[${BY_MONTH.map((table) => `'${table}'`).join(', ')}]) AS x
    WHERE to_regclass(format('%s_%s', x, to_char(of, 'YYYY_MM'))) IS NULL);
BEGIN
  IF of <> date_trunc('month', of) THEN RAISE EXCEPTION 'not the first of a month: %', of; END IF;
  IF missing = '{}' THEN RETURN; END IF;
  PERFORM pg_advisory_xact_lock(hashtext('plateau.months'));
  FOREACH name IN ARRAY missing LOOP
    -- Another may have made it while this one waited.
    BEGIN
      EXECUTE format('CREATE TABLE %I PARTITION OF %I FOR VALUES FROM (%L) TO (%L)',
        format('%s_%s', name, to_char(of, 'YYYY_MM')), name, of, of + interval '1 month');
    EXCEPTION WHEN duplicate_table THEN NULL;
    END;
  END LOOP;
END $$;

-- The role, van and name of who shows a token; nothing where it is none, or withdrawn.
CREATE FUNCTION who_shows(shown bytea) RETURNS TABLE (id text, role text, van text, name text)
LANGUAGE sql STABLE SECURITY DEFINER SET search_path = plateau, pg_temp AS $$
  SELECT id, role, van, name FROM token WHERE hash = shown AND withdrawn_t IS NULL
$$;

-- The site of a visit: one that is known by its hash, or a new one. A site that was erased is never it.
CREATE FUNCTION site_of(known bytea, title text, address text) RETURNS bigint LANGUAGE plpgsql
SECURITY DEFINER SET search_path = plateau, pg_temp AS $$
DECLARE
  found bigint;
BEGIN
  PERFORM pg_advisory_xact_lock(hashtextextended(known::text, 0));
  -- Erasing it waits until this visit stands there, and this one until the site is erased.
  SELECT alias.site INTO found FROM alias JOIN site ON site.key = alias.site WHERE hash = known
  FOR SHARE;
  IF found IS NULL THEN
    INSERT INTO site (title, address) VALUES (site_of.title, site_of.address) RETURNING key INTO found;
    INSERT INTO alias (hash, site) VALUES (known, found);
  END IF;
  RETURN found;
END $$;

-- The unit that is meant: by its serial number, else by its place, unless another serial stands there.
CREATE FUNCTION unit_of(of_site bigint, by_serial bytea, by_place bytea, by_van bytea, called text,
  its_model text, its_form text, its_serial text) RETURNS bigint LANGUAGE plpgsql SECURITY DEFINER
SET search_path = plateau, pg_temp AS $$
DECLARE
  found bigint;
BEGIN
  -- Of two that bring the same unit for the first time, the second finds it.
  PERFORM pg_advisory_xact_lock(hashtextextended(COALESCE(by_serial, by_place, by_van)::text, 0));
  IF by_serial IS NOT NULL THEN
    SELECT alias.unit INTO found FROM alias WHERE hash = by_serial;
  END IF;
  IF found IS NULL THEN
    SELECT unit.key INTO found FROM alias JOIN unit ON unit.key = alias.unit
    WHERE hash IN (by_place, by_van) AND (its_serial = '' OR unit.serial IN ('', its_serial))
    ORDER BY hash = by_place DESC LIMIT 1;
  END IF;
  IF found IS NULL THEN
    INSERT INTO unit (site, name, model, form, serial)
    VALUES (of_site, called, its_model, its_form, its_serial) RETURNING key INTO found;
  ELSE
    -- Where it was seen last: what it is called, and whether that is erased, goes with that site.
    UPDATE unit SET site = of_site, name = called, model = COALESCE(NULLIF(its_model, ''), model),
      form = COALESCE(NULLIF(its_form, ''), form), serial = COALESCE(NULLIF(its_serial, ''), serial)
    WHERE key = found;
  END IF;
  INSERT INTO alias (hash, unit)
  SELECT h, found FROM unnest(ARRAY[by_serial, by_place, by_van]) AS h WHERE h IS NOT NULL
  ON CONFLICT (hash) DO UPDATE SET unit = excluded.unit;
  RETURN found;
END $$;

-- A visit has moved to another site, as when its address is corrected: the old one goes if nothing else is there.
CREATE FUNCTION site_left(was bigint) RETURNS void LANGUAGE plpgsql SECURITY DEFINER
SET search_path = plateau, pg_temp AS $$
BEGIN
  -- Whoever takes it up meanwhile is waited for.
  PERFORM FROM site WHERE key = was FOR UPDATE;
  IF EXISTS (SELECT FROM visit WHERE visit.site = was) THEN RETURN; END IF;
  DELETE FROM unit WHERE unit.site = was
    AND NOT EXISTS (SELECT FROM visit_unit WHERE visit_unit.unit = unit.key);
  DELETE FROM site WHERE key = was AND NOT EXISTS (SELECT FROM unit WHERE unit.site = was);
END $$;

CREATE FUNCTION probe_named(its_id text, called text, its_serial text, its_calibrated_t double precision)
RETURNS void LANGUAGE sql SECURITY DEFINER SET search_path = plateau, pg_temp AS $$
  INSERT INTO probe VALUES (its_id, called, its_serial, its_calibrated_t)
  ON CONFLICT (id) DO UPDATE SET name = excluded.name,
    serial = COALESCE(NULLIF(excluded.serial, ''), probe.serial),
    calibrated_t = COALESCE(excluded.calibrated_t, probe.calibrated_t)
$$;

-- Who withdrew, deleted or erased what is written down by the database itself.
CREATE FUNCTION note_done() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER
SET search_path = plateau, pg_temp AS $$
DECLARE
  who text := COALESCE(NULLIF(current_setting('plateau.who', true), ''), session_user);
  did text;
  what text;
BEGIN
  -- One inside the other: a record has the columns of its own table only.
  IF TG_TABLE_NAME = 'token' THEN
    IF TG_OP = 'INSERT' THEN
      did := 'made';
    ELSIF NEW.withdrawn_t IS NOT NULL AND OLD.withdrawn_t IS NULL THEN
      did := 'withdrew';
    END IF;
    what := format('token %s: %s, "%s"', NEW.id, NEW.role, NEW.name);
  ELSIF TG_TABLE_NAME = 'visit' THEN
    did := 'deleted';
    what := format('visit %s of van %s', OLD.id, OLD.van);
  ELSE
    IF NEW.erased_t IS NOT NULL AND OLD.erased_t IS NULL THEN did := 'erased'; END IF;
    what := format('what is personal of site %s', NEW.key);
  END IF;
  IF did IS NOT NULL THEN INSERT INTO audit (who, did, what) VALUES (who, did, what); END IF;
  RETURN NULL;
END $$;
CREATE TRIGGER token_made AFTER INSERT OR UPDATE ON token FOR EACH ROW EXECUTE FUNCTION note_done();
CREATE TRIGGER visit_deleted AFTER DELETE ON visit FOR EACH ROW EXECUTE FUNCTION note_done();
CREATE TRIGGER site_erased AFTER UPDATE ON site FOR EACH ROW EXECUTE FUNCTION note_done();

-- When a visit is deleted or erased, its unfinished pieces go too: the van starts over. Deleting the last visit
-- of a site deletes the site.
CREATE FUNCTION let_go() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER
SET search_path = plateau, pg_temp AS $$
BEGIN
  DELETE FROM incoming WHERE incoming.van = OLD.van AND incoming.visit = OLD.id;
  IF TG_OP = 'DELETE' THEN PERFORM site_left(OLD.site); END IF;
  RETURN NULL;
END $$;
CREATE TRIGGER visit_let_go AFTER DELETE OR UPDATE OF erased_t ON visit FOR EACH ROW
  EXECUTE FUNCTION let_go();

REVOKE EXECUTE ON ALL FUNCTIONS IN SCHEMA plateau FROM PUBLIC;
GRANT USAGE ON SCHEMA plateau TO plateau_door, plateau_reader, plateau_van, plateau_owner;
GRANT EXECUTE ON FUNCTION who_shows TO plateau_door;
GRANT EXECUTE ON FUNCTION keep_month, site_of, site_left, unit_of, probe_named TO plateau_van;
GRANT SELECT ON ${READ.join(', ')} TO plateau_reader, plateau_owner;
GRANT SELECT, INSERT ON ${['visit', ...OF_VISIT].join(', ')} TO plateau_van;
-- A van may change which version is current and what is said of its visit, never what it has sent, nor whether
-- the visit was erased.
${each(BY_MONTH, (table) => (table === 'part' ? '' : `GRANT UPDATE (current) ON ${table} TO plateau_van;`))}
GRANT UPDATE (unit) ON visit_unit TO plateau_van;
GRANT UPDATE (site, kind, title, address, customer, technician, why, units, captures, begun_t, last_t, n)
  ON visit TO plateau_van;
GRANT SELECT, INSERT, DELETE ON incoming TO plateau_van;
GRANT SELECT, INSERT ON van, token TO plateau_owner;
GRANT UPDATE (withdrawn_t) ON token TO plateau_owner;
GRANT SELECT ON audit, alias TO plateau_owner;
GRANT DELETE ON visit, alias, photo TO plateau_owner;
GRANT UPDATE ON site, unit, visit, part TO plateau_owner;
${each([...OFFICE, ...SENT], (table) => `ALTER TABLE ${table} ENABLE ROW LEVEL SECURITY;`)}
${each(READ, (table) => `CREATE POLICY read ON ${table} FOR SELECT TO plateau_reader USING (true);`)}
-- Rows of a visit belong to the van of that visit. Foreign keys are checked past row-level rights: without this
-- a van could put rows into another's visit. It sees its own visits only.
${each(
  SENT,
  (table) => `CREATE POLICY own ON ${table} TO plateau_van USING (${OWN}) WITH CHECK (${OWN}
  ${OF_VISIT.includes(table) ? `AND EXISTS (SELECT FROM visit WHERE visit.key = ${table}.visit)` : ''});`,
)}
${each([...new Set([...OFFICE, ...READ])], (table) => `CREATE POLICY all_of_it ON ${table} TO plateau_owner USING (true) WITH CHECK (true);`)}
`,
];
