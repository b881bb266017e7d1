/**
 * The tables, version by version: each entry brings a database from the version before it to its own,
 * and is never changed once released. Column types and constraints are those that PostgreSQL knows
 * too, but for `BLOB` (there `BYTEA`) and `REAL` (there `DOUBLE PRECISION`). Times are ms since the
 * epoch; `details` and `data` are JSON.
 *
 * What a visit is made of stands in `line`, `reading` and `segment`, in the order in which it was
 * taken; everything else is worked out from it, and is there to be found and shown quickly.
 */
export const MIGRATIONS: readonly string[] = [
  `
CREATE TABLE site (
  id TEXT NOT NULL PRIMARY KEY,
  name TEXT NOT NULL,
  address TEXT NOT NULL,
  altitude_m REAL,
  pressure_pa REAL
);
CREATE TABLE visit (
  key INTEGER NOT NULL PRIMARY KEY,
  id TEXT NOT NULL UNIQUE,
  site TEXT NOT NULL REFERENCES site (id),
  kind TEXT NOT NULL CHECK (kind IN ('visit', 'replay', 'import')),
  simulated INTEGER NOT NULL DEFAULT 0,
  title TEXT NOT NULL DEFAULT '',
  details TEXT NOT NULL DEFAULT '{}',
  begun_t REAL,
  last_t REAL,
  written_t REAL NOT NULL,
  whole INTEGER NOT NULL DEFAULT 0
);
CREATE INDEX visit_begun ON visit (begun_t);
CREATE TABLE line (
  visit INTEGER NOT NULL REFERENCES visit (key),
  n INTEGER NOT NULL,
  readings_before INTEGER NOT NULL,
  line TEXT NOT NULL,
  PRIMARY KEY (visit, n)
);
CREATE TABLE reading (
  visit INTEGER NOT NULL,
  n INTEGER NOT NULL,
  t REAL NOT NULL,
  after REAL,
  probe TEXT NOT NULL,
  temperature_c REAL,
  humidity_pct REAL,
  dew_point_c REAL,
  velocity_ms REAL,
  pressure_pa REAL,
  power_w REAL,
  battery_pct REAL,
  PRIMARY KEY (visit, n)
) WITHOUT ROWID;
CREATE TABLE segment (
  visit INTEGER NOT NULL REFERENCES visit (key),
  first_n INTEGER NOT NULL,
  readings INTEGER NOT NULL,
  data BLOB NOT NULL,
  PRIMARY KEY (visit, first_n)
);
CREATE TABLE outdoor_system (
  site TEXT NOT NULL REFERENCES site (id),
  id TEXT NOT NULL,
  name TEXT NOT NULL,
  details TEXT NOT NULL DEFAULT '{}',
  PRIMARY KEY (site, id)
);
CREATE TABLE indoor_unit (
  site TEXT NOT NULL REFERENCES site (id),
  id TEXT NOT NULL,
  system TEXT,
  name TEXT NOT NULL,
  details TEXT NOT NULL DEFAULT '{}',
  PRIMARY KEY (site, id)
);
CREATE TABLE visit_unit (
  visit INTEGER NOT NULL REFERENCES visit (key),
  unit TEXT NOT NULL,
  name TEXT NOT NULL,
  details TEXT NOT NULL DEFAULT '{}',
  PRIMARY KEY (visit, unit)
);
CREATE TABLE probe (
  id TEXT NOT NULL PRIMARY KEY,
  name TEXT NOT NULL,
  details TEXT NOT NULL DEFAULT '{}',
  seen_t REAL
);
CREATE TABLE probe_check (
  visit INTEGER NOT NULL REFERENCES visit (key),
  since REAL NOT NULL,
  data TEXT NOT NULL,
  PRIMARY KEY (visit, since)
);
CREATE TABLE airflow (
  visit INTEGER NOT NULL REFERENCES visit (key),
  unit TEXT NOT NULL,
  n INTEGER NOT NULL,
  t REAL,
  flow_m3s REAL NOT NULL,
  data TEXT NOT NULL,
  PRIMARY KEY (visit, unit, n)
);
CREATE TABLE event (
  visit INTEGER NOT NULL REFERENCES visit (key),
  id TEXT NOT NULL,
  t REAL NOT NULL,
  kind TEXT NOT NULL,
  unit TEXT,
  data TEXT NOT NULL,
  PRIMARY KEY (visit, id)
);
CREATE TABLE capture (
  visit INTEGER NOT NULL REFERENCES visit (key),
  key TEXT NOT NULL,
  unit TEXT NOT NULL,
  from_t REAL NOT NULL,
  to_t REAL NOT NULL,
  total_w REAL NOT NULL,
  total_u95_w REAL,
  data TEXT NOT NULL,
  PRIMARY KEY (visit, key)
);
CREATE TABLE chart (
  visit INTEGER NOT NULL REFERENCES visit (key),
  first_t REAL NOT NULL,
  data BLOB NOT NULL,
  PRIMARY KEY (visit, first_t)
)
`,
  // Which lines hold the pieces of a photo.
  `
CREATE TABLE photo_piece (
  visit INTEGER NOT NULL REFERENCES visit (key),
  line_n INTEGER NOT NULL,
  id TEXT NOT NULL,
  PRIMARY KEY (visit, line_n)
);
CREATE INDEX photo_piece_id ON photo_piece (id)
`,
  // Airflows that were measured, to be compared with over the years.
  `
CREATE TABLE measured_airflow (
  visit INTEGER NOT NULL REFERENCES visit (key),
  unit TEXT NOT NULL,
  t REAL NOT NULL,
  method TEXT NOT NULL,
  flow_m3s REAL NOT NULL,
  u95_m3s REAL NOT NULL,
  data TEXT NOT NULL,
  PRIMARY KEY (visit, unit, t, method)
)
`,
  // Whether a captured figure is what was promised.
  `
CREATE TABLE verdict (
  visit INTEGER NOT NULL REFERENCES visit (key),
  key TEXT NOT NULL,
  unit TEXT NOT NULL,
  to_t REAL NOT NULL,
  verdict TEXT NOT NULL,
  data TEXT NOT NULL,
  PRIMARY KEY (visit, key)
)
`,
  // Which version of a visit the company's archive has confirmed, and what the visit was written by then.
  `
CREATE TABLE sent (
  visit INTEGER NOT NULL PRIMARY KEY REFERENCES visit (key),
  hash TEXT NOT NULL,
  written_t REAL NOT NULL,
  confirmed_t REAL NOT NULL
)
`,
];
