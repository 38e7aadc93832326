-- The whole ledger. Released: never edit; a correction is the next number.
-- Applied by src/ledger/migrate.ts in one transaction with its PRAGMA user_version.
--
-- Rows are only added. An act is one thing that somebody did; every row names its act, and the act is sealed with a
-- hash over them. What is current is a view: rows of an act that was undone, and rows that were replaced or withdrawn,
-- are not in it. `9223372036854775807` in a view is the last act that counts; to ask the ledger as it stood after an
-- earlier act the same views are made again, for that connection only, with that act's number in its stead.

CREATE TABLE act (
  id INTEGER PRIMARY KEY,
  at TEXT NOT NULL,          -- ISO 8601, UTC
  who TEXT NOT NULL,
  command TEXT NOT NULL,     -- the command line as it was given
  why TEXT,
  program TEXT NOT NULL,     -- version that recorded it
  undoes INTEGER REFERENCES act (id)
) STRICT;

-- hash = SHA-256 over the hash of the act before, the act itself, and a digest of its rows, table by table.
CREATE TABLE seal (
  act_id INTEGER PRIMARY KEY REFERENCES act (id),
  row_count INTEGER NOT NULL,
  hash BLOB NOT NULL CHECK (length(hash) = 32)
) STRICT;

-- Whether an act counts: the latest row on it decides. An undo makes one void, undoing the undo restores it.
CREATE TABLE standing (
  row INTEGER PRIMARY KEY,
  act_id INTEGER NOT NULL REFERENCES act (id),       -- the act that did it
  target INTEGER NOT NULL REFERENCES act (id),       -- the act it is about
  void INTEGER NOT NULL CHECK (void IN (0, 1))
) STRICT;
CREATE INDEX standing_target ON standing (target, act_id, void);

-- A row that no longer holds: a later version of the record stands in `successor`, or it was withdrawn (null).
CREATE TABLE replaced (
  row INTEGER PRIMARY KEY,
  act_id INTEGER NOT NULL REFERENCES act (id),
  kind TEXT NOT NULL,
  target INTEGER NOT NULL,
  successor INTEGER,
  field TEXT,
  why TEXT
) STRICT;
CREATE INDEX replaced_target ON replaced (kind, target, act_id);

-- Dictionaries: every distinct wording once, with what was made of it when it was first recorded.
CREATE TABLE surname (
  id INTEGER PRIMARY KEY, act_id INTEGER NOT NULL REFERENCES act (id), text TEXT NOT NULL UNIQUE
) STRICT;
CREATE TABLE printed_name (
  id INTEGER PRIMARY KEY, act_id INTEGER NOT NULL REFERENCES act (id), text TEXT NOT NULL,
  surname_id INTEGER NOT NULL REFERENCES surname (id), forenames TEXT, honours TEXT, suffix TEXT
) STRICT;
CREATE INDEX printed_name_surname ON printed_name (surname_id);
CREATE TABLE rank_style (
  id INTEGER PRIMARY KEY, act_id INTEGER NOT NULL REFERENCES act (id),
  service TEXT NOT NULL, text TEXT NOT NULL, rank TEXT NOT NULL, UNIQUE (service, text, rank)
) STRICT;
CREATE TABLE corps_style (
  id INTEGER PRIMARY KEY, act_id INTEGER NOT NULL REFERENCES act (id), text TEXT NOT NULL UNIQUE
) STRICT;
-- Days are Julian Day Numbers; until_day is the first day outside; null is open. printed: what the page shows, where
-- that cannot be a date.
CREATE TABLE date_expression (
  id INTEGER PRIMARY KEY, act_id INTEGER NOT NULL REFERENCES act (id),
  text TEXT NOT NULL, printed TEXT, from_day INTEGER, until_day INTEGER,
  approximate INTEGER NOT NULL, uncertain INTEGER NOT NULL,
  CHECK (from_day < until_day)
) STRICT;
CREATE INDEX date_expression_text ON date_expression (text);

-- Files that were imported, so that the same one is known when it comes again.
CREATE TABLE source_file (
  row INTEGER PRIMARY KEY, act_id INTEGER NOT NULL REFERENCES act (id),
  name TEXT NOT NULL, sha256 TEXT NOT NULL, options TEXT NOT NULL
) STRICT;

-- Entries of the lists. The table is the retrieval index: clustered by surname and edition, coded by the dictionaries,
-- appended in key order by an import. `row` numbers run in reading order within one act and edition; the record's id is
-- that of its first version (`id` null: this is the first). person_id: the bearer as recorded with the entry; a later
-- decision is a row of `link`. appointment: null for a substantive one. Foreign keys of this table are checked by
-- `verify`, not row by row, since an import of millions takes every number from the dictionaries it has just written.
CREATE TABLE entry (
  surname_id INTEGER NOT NULL,
  edition_id INTEGER NOT NULL,
  row INTEGER NOT NULL,
  act_id INTEGER NOT NULL,
  name_id INTEGER NOT NULL,
  rank_id INTEGER NOT NULL,
  corps_id INTEGER,
  dated_id INTEGER,
  page ANY,
  person_id INTEGER,
  appointment TEXT,
  id INTEGER,
  key TEXT,
  note TEXT,
  PRIMARY KEY (surname_id, edition_id, row)
) STRICT, WITHOUT ROWID;
CREATE INDEX entry_key ON entry (key) WHERE key IS NOT NULL;
CREATE INDEX entry_version ON entry (id) WHERE id IS NOT NULL;

-- Under which surnames a person's entries stand, so that they are found in the clusters of those surnames: an index by
-- person over millions of entries would cost a quarter of the file. Only ever too much is in it, never too little; it can
-- be made again from the entries.
CREATE TABLE bearer_surname (
  person_id INTEGER NOT NULL, surname_id INTEGER NOT NULL, PRIMARY KEY (person_id, surname_id)
) STRICT, WITHOUT ROWID;

-- Which row numbers lie in which edition: entries have no index by number, and need none but this.
CREATE TABLE entry_run (
  first_row INTEGER PRIMARY KEY, act_id INTEGER NOT NULL REFERENCES act (id),
  edition_id INTEGER NOT NULL REFERENCES edition (row), row_count INTEGER NOT NULL, surname_id INTEGER
) STRICT;

-- The surnames as one front-coded list for searching damaged names. Rebuilt from `surname` at any time.
CREATE TABLE surname_index (
  id INTEGER PRIMARY KEY CHECK (id = 1), through_surname INTEGER NOT NULL, version INTEGER NOT NULL, forward BLOB NOT NULL, backward BLOB NOT NULL
) STRICT;

-- Records. `row` is one version; `id` is the row of the first version, by which other records refer to it.
CREATE TABLE "service" ( -- a service whose ladder of ranks this ledger adds itself
  row INTEGER PRIMARY KEY, id INTEGER NOT NULL REFERENCES "service" (row), act_id INTEGER NOT NULL REFERENCES act (id), key TEXT,
  name TEXT NOT NULL
) STRICT;
CREATE INDEX "service_id" ON "service" (id);
CREATE INDEX "service_key" ON "service" (key) WHERE key IS NOT NULL;
CREATE TABLE "rank" ( -- one rank of such a ladder; place: larger is senior; abbreviations: JSON array
  row INTEGER PRIMARY KEY, id INTEGER NOT NULL REFERENCES "rank" (row), act_id INTEGER NOT NULL REFERENCES act (id), key TEXT,
  service TEXT NOT NULL,
  title TEXT NOT NULL,
  place INTEGER,
  abbreviations TEXT,
  courtesy TEXT
) STRICT;
CREATE INDEX "rank_id" ON "rank" (id);
CREATE INDEX "rank_key" ON "rank" (key) WHERE key IS NOT NULL;
CREATE TABLE "corps" ( -- a title of a corps; one renumbered or renamed is the same post
  row INTEGER PRIMARY KEY, id INTEGER NOT NULL REFERENCES "corps" (row), act_id INTEGER NOT NULL REFERENCES act (id), key TEXT,
  name TEXT NOT NULL,
  same_as_id INTEGER REFERENCES corps (row),
  from_id INTEGER REFERENCES date_expression (id),
  to_id INTEGER REFERENCES date_expression (id)
) STRICT;
CREATE INDEX "corps_id" ON "corps" (id);
CREATE INDEX "corps_key" ON "corps" (key) WHERE key IS NOT NULL;
CREATE TABLE "series" ( -- a periodical list
  row INTEGER PRIMARY KEY, id INTEGER NOT NULL REFERENCES "series" (row), act_id INTEGER NOT NULL REFERENCES act (id), key TEXT,
  name TEXT NOT NULL,
  service TEXT NOT NULL,
  lag_days INTEGER
) STRICT;
CREATE INDEX "series_id" ON "series" (id);
CREATE INDEX "series_key" ON "series" (key) WHERE key IS NOT NULL;
CREATE TABLE "edition" ( -- one issue; as_at: the list as it stood at a day
  row INTEGER PRIMARY KEY, id INTEGER NOT NULL REFERENCES "edition" (row), act_id INTEGER NOT NULL REFERENCES act (id), key TEXT,
  series_id INTEGER NOT NULL REFERENCES series (row),
  label TEXT NOT NULL,
  as_at_id INTEGER NOT NULL REFERENCES date_expression (id),
  source TEXT,
  copy TEXT,
  shelfmark TEXT
) STRICT;
CREATE INDEX "edition_id" ON "edition" (id);
CREATE INDEX "edition_key" ON "edition" (key) WHERE key IS NOT NULL;
CREATE TABLE "person" ( -- places: JSON array
  row INTEGER PRIMARY KEY, id INTEGER NOT NULL REFERENCES "person" (row), act_id INTEGER NOT NULL REFERENCES act (id), key TEXT,
  name_id INTEGER NOT NULL REFERENCES printed_name (id),
  born_id INTEGER REFERENCES date_expression (id),
  died_id INTEGER REFERENCES date_expression (id),
  places TEXT,
  note TEXT
) STRICT;
CREATE INDEX "person_id" ON "person" (id);
CREATE INDEX "person_key" ON "person" (key) WHERE key IS NOT NULL;
CREATE TABLE "name_form" ( -- another name, in use from the first day of from to the last day of to
  row INTEGER PRIMARY KEY, id INTEGER NOT NULL REFERENCES "name_form" (row), act_id INTEGER NOT NULL REFERENCES act (id), key TEXT,
  person_id INTEGER NOT NULL REFERENCES person (row),
  name_id INTEGER NOT NULL REFERENCES printed_name (id),
  from_id INTEGER REFERENCES date_expression (id),
  to_id INTEGER REFERENCES date_expression (id)
) STRICT;
CREATE INDEX "name_form_id" ON "name_form" (id);
CREATE INDEX "name_form_key" ON "name_form" (key) WHERE key IS NOT NULL;
CREATE TABLE "same" ( -- these two are one
  row INTEGER PRIMARY KEY, id INTEGER NOT NULL REFERENCES "same" (row), act_id INTEGER NOT NULL REFERENCES act (id), key TEXT,
  person_id INTEGER NOT NULL REFERENCES person (row),
  other_id INTEGER NOT NULL REFERENCES person (row),
  why TEXT
) STRICT;
CREATE INDEX "same_id" ON "same" (id);
CREATE INDEX "same_key" ON "same" (key) WHERE key IS NOT NULL;
CREATE TABLE "differ" ( -- these two are not one
  row INTEGER PRIMARY KEY, id INTEGER NOT NULL REFERENCES "differ" (row), act_id INTEGER NOT NULL REFERENCES act (id), key TEXT,
  person_id INTEGER NOT NULL REFERENCES person (row),
  other_id INTEGER NOT NULL REFERENCES person (row),
  why TEXT
) STRICT;
CREATE INDEX "differ_id" ON "differ" (id);
CREATE INDEX "differ_key" ON "differ" (key) WHERE key IS NOT NULL;
CREATE TABLE "kin" ( -- the relative is the parent, child … of the person
  row INTEGER PRIMARY KEY, id INTEGER NOT NULL REFERENCES "kin" (row), act_id INTEGER NOT NULL REFERENCES act (id), key TEXT,
  person_id INTEGER NOT NULL REFERENCES person (row),
  relation TEXT NOT NULL,
  relative_id INTEGER NOT NULL REFERENCES person (row)
) STRICT;
CREATE INDEX "kin_id" ON "kin" (id);
CREATE INDEX "kin_key" ON "kin" (key) WHERE key IS NOT NULL;
CREATE TABLE "search" ( -- a nil search of a person, or a sweep of a surname
  row INTEGER PRIMARY KEY, id INTEGER NOT NULL REFERENCES "search" (row), act_id INTEGER NOT NULL REFERENCES act (id), key TEXT,
  edition_id INTEGER NOT NULL REFERENCES edition (row),
  person_id INTEGER REFERENCES person (row),
  surname TEXT,
  outcome TEXT NOT NULL,
  found INTEGER,
  note TEXT
) STRICT;
CREATE INDEX "search_id" ON "search" (id);
CREATE INDEX "search_key" ON "search" (key) WHERE key IS NOT NULL;
CREATE TABLE "notice" ( -- a dated event from a gazette, register or paper
  row INTEGER PRIMARY KEY, id INTEGER NOT NULL REFERENCES "notice" (row), act_id INTEGER NOT NULL REFERENCES act (id), key TEXT,
  person_id INTEGER NOT NULL REFERENCES person (row),
  event TEXT NOT NULL,
  date_id INTEGER NOT NULL REFERENCES date_expression (id),
  rank_id INTEGER REFERENCES rank_style (id),
  corps_id INTEGER REFERENCES corps_style (id),
  appointment TEXT,
  source TEXT,
  vice_id INTEGER REFERENCES person (row),
  name_id INTEGER REFERENCES printed_name (id),
  note TEXT
) STRICT;
CREATE INDEX "notice_id" ON "notice" (id);
CREATE INDEX "notice_key" ON "notice" (key) WHERE key IS NOT NULL;
CREATE TABLE "condition" ( -- a condition of service: so long in a rank
  row INTEGER PRIMARY KEY, id INTEGER NOT NULL REFERENCES "condition" (row), act_id INTEGER NOT NULL REFERENCES act (id), key TEXT,
  rank_id INTEGER NOT NULL REFERENCES rank_style (id),
  at_least_days INTEGER,
  at_most_days INTEGER,
  source TEXT
) STRICT;
CREATE INDEX "condition_id" ON "condition" (id);
CREATE INDEX "condition_key" ON "condition" (key) WHERE key IS NOT NULL;
CREATE TABLE "object" ( -- the thing examined
  row INTEGER PRIMARY KEY, id INTEGER NOT NULL REFERENCES "object" (row), act_id INTEGER NOT NULL REFERENCES act (id), key TEXT,
  ref TEXT NOT NULL,
  title TEXT NOT NULL,
  note TEXT,
  horizon_id INTEGER REFERENCES date_expression (id)
) STRICT;
CREATE INDEX "object_id" ON "object" (id);
CREATE INDEX "object_key" ON "object" (key) WHERE key IS NOT NULL;
CREATE TABLE "feature" ( -- a trait that bears on date
  row INTEGER PRIMARY KEY, id INTEGER NOT NULL REFERENCES "feature" (row), act_id INTEGER NOT NULL REFERENCES act (id), key TEXT,
  object_id INTEGER NOT NULL REFERENCES object (row),
  text TEXT NOT NULL,
  window_id INTEGER REFERENCES date_expression (id),
  force TEXT NOT NULL,
  weight TEXT NOT NULL,
  part TEXT,
  state TEXT NOT NULL,
  fact TEXT,
  confidence TEXT,
  source TEXT
) STRICT;
CREATE INDEX "feature_id" ON "feature" (id);
CREATE INDEX "feature_key" ON "feature" (key) WHERE key IS NOT NULL;
CREATE TABLE "mark" ( -- text: the first reading; the parts are corrections of what is read from it
  row INTEGER PRIMARY KEY, id INTEGER NOT NULL REFERENCES "mark" (row), act_id INTEGER NOT NULL REFERENCES act (id), key TEXT,
  object_id INTEGER NOT NULL REFERENCES object (row),
  text TEXT NOT NULL,
  role TEXT NOT NULL,
  technique TEXT,
  where_on TEXT,
  made_id INTEGER REFERENCES date_expression (id),
  over_id INTEGER REFERENCES mark (row),
  surname TEXT,
  forenames TEXT,
  rank TEXT,
  corps TEXT,
  place TEXT
) STRICT;
CREATE INDEX "mark_id" ON "mark" (id);
CREATE INDEX "mark_key" ON "mark" (key) WHERE key IS NOT NULL;
CREATE TABLE "reading" ( -- another transcription
  row INTEGER PRIMARY KEY, id INTEGER NOT NULL REFERENCES "reading" (row), act_id INTEGER NOT NULL REFERENCES act (id), key TEXT,
  mark_id INTEGER NOT NULL REFERENCES mark (row),
  text TEXT NOT NULL,
  by_whom TEXT
) STRICT;
CREATE INDEX "reading_id" ON "reading" (id);
CREATE INDEX "reading_key" ON "reading" (key) WHERE key IS NOT NULL;
CREATE TABLE "photo" ( -- a picture of a mark or an object
  row INTEGER PRIMARY KEY, id INTEGER NOT NULL REFERENCES "photo" (row), act_id INTEGER NOT NULL REFERENCES act (id), key TEXT,
  of TEXT NOT NULL,
  file TEXT NOT NULL,
  sha256 TEXT,
  bytes INTEGER
) STRICT;
CREATE INDEX "photo_id" ON "photo" (id);
CREATE INDEX "photo_key" ON "photo" (key) WHERE key IS NOT NULL;
CREATE TABLE "attribution" ( -- the conclusion that a researcher puts a name to
  row INTEGER PRIMARY KEY, id INTEGER NOT NULL REFERENCES "attribution" (row), act_id INTEGER NOT NULL REFERENCES act (id), key TEXT,
  mark_id INTEGER NOT NULL REFERENCES mark (row),
  person_id INTEGER NOT NULL REFERENCES person (row),
  grade TEXT,
  why TEXT
) STRICT;
CREATE INDEX "attribution_id" ON "attribution" (id);
CREATE INDEX "attribution_key" ON "attribution" (key) WHERE key IS NOT NULL;
CREATE TABLE "assumption" ( -- the latest of a name holds
  row INTEGER PRIMARY KEY, id INTEGER NOT NULL REFERENCES "assumption" (row), act_id INTEGER NOT NULL REFERENCES act (id), key TEXT,
  name TEXT NOT NULL,
  value TEXT NOT NULL,
  why TEXT
) STRICT;
CREATE INDEX "assumption_id" ON "assumption" (id);
CREATE INDEX "assumption_key" ON "assumption" (key) WHERE key IS NOT NULL;
CREATE TABLE "set_aside" ( -- a record that the researcher would not have used
  row INTEGER PRIMARY KEY, id INTEGER NOT NULL REFERENCES "set_aside" (row), act_id INTEGER NOT NULL REFERENCES act (id), key TEXT,
  record TEXT NOT NULL,
  why TEXT
) STRICT;
CREATE INDEX "set_aside_id" ON "set_aside" (id);
CREATE INDEX "set_aside_key" ON "set_aside" (key) WHERE key IS NOT NULL;
CREATE TABLE "link" ( -- who bears an entry, where that differs from what was recorded with it; no person: nobody yet
  row INTEGER PRIMARY KEY, id INTEGER NOT NULL REFERENCES "link" (row), act_id INTEGER NOT NULL REFERENCES act (id), key TEXT,
  entry_id INTEGER NOT NULL,
  person_id INTEGER REFERENCES person (row),
  why TEXT
) STRICT;
CREATE INDEX "link_id" ON "link" (id);
CREATE INDEX "link_key" ON "link" (key) WHERE key IS NOT NULL;
CREATE TABLE "fact" ( -- a datable trait or wording of the house’s own shelf
  row INTEGER PRIMARY KEY, id INTEGER NOT NULL REFERENCES "fact" (row), act_id INTEGER NOT NULL REFERENCES act (id), key TEXT,
  name TEXT NOT NULL,
  text TEXT NOT NULL,
  pattern TEXT,
  window_id INTEGER REFERENCES date_expression (id),
  force TEXT NOT NULL,
  weight TEXT NOT NULL,
  confidence TEXT,
  source TEXT
) STRICT;
CREATE INDEX "fact_id" ON "fact" (id);
CREATE INDEX "fact_key" ON "fact" (key) WHERE key IS NOT NULL;
CREATE TABLE "clue" ( -- a datable wording of a mark that the researcher confirmed
  row INTEGER PRIMARY KEY, id INTEGER NOT NULL REFERENCES "clue" (row), act_id INTEGER NOT NULL REFERENCES act (id), key TEXT,
  mark_id INTEGER NOT NULL REFERENCES mark (row),
  text TEXT NOT NULL,
  fact TEXT,
  window_id INTEGER NOT NULL REFERENCES date_expression (id),
  force TEXT NOT NULL,
  weight TEXT NOT NULL,
  confidence TEXT,
  source TEXT,
  why TEXT
) STRICT;
CREATE INDEX "clue_id" ON "clue" (id);
CREATE INDEX "clue_key" ON "clue" (key) WHERE key IS NOT NULL;
CREATE INDEX "person_name_id" ON "person" (name_id);
CREATE INDEX "name_form_name_id" ON "name_form" (name_id);
CREATE INDEX "name_form_person_id" ON "name_form" (person_id);
CREATE INDEX "same_person_id" ON "same" (person_id);
CREATE INDEX "same_other_id" ON "same" (other_id);
CREATE INDEX "differ_person_id" ON "differ" (person_id);
CREATE INDEX "differ_other_id" ON "differ" (other_id);
CREATE INDEX "kin_person_id" ON "kin" (person_id);
CREATE INDEX "kin_relative_id" ON "kin" (relative_id);
CREATE INDEX "search_person_id" ON "search" (person_id);
CREATE INDEX "search_edition_id" ON "search" (edition_id);
CREATE INDEX "notice_person_id" ON "notice" (person_id);
CREATE INDEX "notice_vice_id" ON "notice" (vice_id);
CREATE INDEX "edition_series_id" ON "edition" (series_id);
CREATE INDEX "object_ref" ON "object" (ref);
CREATE INDEX "feature_object_id" ON "feature" (object_id);
CREATE INDEX "mark_object_id" ON "mark" (object_id);
CREATE INDEX "reading_mark_id" ON "reading" (mark_id);
CREATE INDEX "clue_mark_id" ON "clue" (mark_id);
CREATE INDEX "photo_of" ON "photo" (of);
CREATE INDEX "attribution_mark_id" ON "attribution" (mark_id);
CREATE INDEX "set_aside_record" ON "set_aside" (record);
CREATE INDEX "link_entry_id" ON "link" (entry_id);
CREATE INDEX "link_person_id" ON "link" (person_id);
CREATE INDEX "person_places" ON "person" (places) WHERE places IS NOT NULL;

-- What is current.
CREATE VIEW void_act AS SELECT s.target AS act_id FROM standing AS s
 WHERE s.void = 1 AND s.act_id <= 9223372036854775807
   AND NOT EXISTS (SELECT 1 FROM standing AS t WHERE t.target = s.target AND t.row > s.row AND t.act_id <= 9223372036854775807);
CREATE VIEW gone AS SELECT r.kind, r.target, r.act_id FROM replaced AS r
 WHERE r.act_id <= 9223372036854775807 AND NOT EXISTS (SELECT 1 FROM void_act AS v WHERE v.act_id = r.act_id);
CREATE VIEW "current_service" AS SELECT x.* FROM "service" AS x
 WHERE x.act_id <= 9223372036854775807 AND NOT EXISTS (SELECT 1 FROM void_act AS v WHERE v.act_id = x.act_id)
   AND NOT EXISTS (SELECT 1 FROM gone AS g WHERE g.kind = 'service' AND g.target = x.row);
CREATE VIEW "current_rank" AS SELECT x.* FROM "rank" AS x
 WHERE x.act_id <= 9223372036854775807 AND NOT EXISTS (SELECT 1 FROM void_act AS v WHERE v.act_id = x.act_id)
   AND NOT EXISTS (SELECT 1 FROM gone AS g WHERE g.kind = 'rank' AND g.target = x.row);
CREATE VIEW "current_corps" AS SELECT x.* FROM "corps" AS x
 WHERE x.act_id <= 9223372036854775807 AND NOT EXISTS (SELECT 1 FROM void_act AS v WHERE v.act_id = x.act_id)
   AND NOT EXISTS (SELECT 1 FROM gone AS g WHERE g.kind = 'corps' AND g.target = x.row);
CREATE VIEW "current_series" AS SELECT x.* FROM "series" AS x
 WHERE x.act_id <= 9223372036854775807 AND NOT EXISTS (SELECT 1 FROM void_act AS v WHERE v.act_id = x.act_id)
   AND NOT EXISTS (SELECT 1 FROM gone AS g WHERE g.kind = 'series' AND g.target = x.row);
CREATE VIEW "current_edition" AS SELECT x.* FROM "edition" AS x
 WHERE x.act_id <= 9223372036854775807 AND NOT EXISTS (SELECT 1 FROM void_act AS v WHERE v.act_id = x.act_id)
   AND NOT EXISTS (SELECT 1 FROM gone AS g WHERE g.kind = 'edition' AND g.target = x.row);
CREATE VIEW "current_person" AS SELECT x.* FROM "person" AS x
 WHERE x.act_id <= 9223372036854775807 AND NOT EXISTS (SELECT 1 FROM void_act AS v WHERE v.act_id = x.act_id)
   AND NOT EXISTS (SELECT 1 FROM gone AS g WHERE g.kind = 'person' AND g.target = x.row);
CREATE VIEW "current_name_form" AS SELECT x.* FROM "name_form" AS x
 WHERE x.act_id <= 9223372036854775807 AND NOT EXISTS (SELECT 1 FROM void_act AS v WHERE v.act_id = x.act_id)
   AND NOT EXISTS (SELECT 1 FROM gone AS g WHERE g.kind = 'name_form' AND g.target = x.row);
CREATE VIEW "current_same" AS SELECT x.* FROM "same" AS x
 WHERE x.act_id <= 9223372036854775807 AND NOT EXISTS (SELECT 1 FROM void_act AS v WHERE v.act_id = x.act_id)
   AND NOT EXISTS (SELECT 1 FROM gone AS g WHERE g.kind = 'same' AND g.target = x.row);
CREATE VIEW "current_differ" AS SELECT x.* FROM "differ" AS x
 WHERE x.act_id <= 9223372036854775807 AND NOT EXISTS (SELECT 1 FROM void_act AS v WHERE v.act_id = x.act_id)
   AND NOT EXISTS (SELECT 1 FROM gone AS g WHERE g.kind = 'differ' AND g.target = x.row);
CREATE VIEW "current_kin" AS SELECT x.* FROM "kin" AS x
 WHERE x.act_id <= 9223372036854775807 AND NOT EXISTS (SELECT 1 FROM void_act AS v WHERE v.act_id = x.act_id)
   AND NOT EXISTS (SELECT 1 FROM gone AS g WHERE g.kind = 'kin' AND g.target = x.row);
CREATE VIEW "current_search" AS SELECT x.* FROM "search" AS x
 WHERE x.act_id <= 9223372036854775807 AND NOT EXISTS (SELECT 1 FROM void_act AS v WHERE v.act_id = x.act_id)
   AND NOT EXISTS (SELECT 1 FROM gone AS g WHERE g.kind = 'search' AND g.target = x.row);
CREATE VIEW "current_notice" AS SELECT x.* FROM "notice" AS x
 WHERE x.act_id <= 9223372036854775807 AND NOT EXISTS (SELECT 1 FROM void_act AS v WHERE v.act_id = x.act_id)
   AND NOT EXISTS (SELECT 1 FROM gone AS g WHERE g.kind = 'notice' AND g.target = x.row);
CREATE VIEW "current_condition" AS SELECT x.* FROM "condition" AS x
 WHERE x.act_id <= 9223372036854775807 AND NOT EXISTS (SELECT 1 FROM void_act AS v WHERE v.act_id = x.act_id)
   AND NOT EXISTS (SELECT 1 FROM gone AS g WHERE g.kind = 'condition' AND g.target = x.row);
CREATE VIEW "current_object" AS SELECT x.* FROM "object" AS x
 WHERE x.act_id <= 9223372036854775807 AND NOT EXISTS (SELECT 1 FROM void_act AS v WHERE v.act_id = x.act_id)
   AND NOT EXISTS (SELECT 1 FROM gone AS g WHERE g.kind = 'object' AND g.target = x.row);
CREATE VIEW "current_feature" AS SELECT x.* FROM "feature" AS x
 WHERE x.act_id <= 9223372036854775807 AND NOT EXISTS (SELECT 1 FROM void_act AS v WHERE v.act_id = x.act_id)
   AND NOT EXISTS (SELECT 1 FROM gone AS g WHERE g.kind = 'feature' AND g.target = x.row);
CREATE VIEW "current_mark" AS SELECT x.* FROM "mark" AS x
 WHERE x.act_id <= 9223372036854775807 AND NOT EXISTS (SELECT 1 FROM void_act AS v WHERE v.act_id = x.act_id)
   AND NOT EXISTS (SELECT 1 FROM gone AS g WHERE g.kind = 'mark' AND g.target = x.row);
CREATE VIEW "current_reading" AS SELECT x.* FROM "reading" AS x
 WHERE x.act_id <= 9223372036854775807 AND NOT EXISTS (SELECT 1 FROM void_act AS v WHERE v.act_id = x.act_id)
   AND NOT EXISTS (SELECT 1 FROM gone AS g WHERE g.kind = 'reading' AND g.target = x.row);
CREATE VIEW "current_photo" AS SELECT x.* FROM "photo" AS x
 WHERE x.act_id <= 9223372036854775807 AND NOT EXISTS (SELECT 1 FROM void_act AS v WHERE v.act_id = x.act_id)
   AND NOT EXISTS (SELECT 1 FROM gone AS g WHERE g.kind = 'photo' AND g.target = x.row);
CREATE VIEW "current_attribution" AS SELECT x.* FROM "attribution" AS x
 WHERE x.act_id <= 9223372036854775807 AND NOT EXISTS (SELECT 1 FROM void_act AS v WHERE v.act_id = x.act_id)
   AND NOT EXISTS (SELECT 1 FROM gone AS g WHERE g.kind = 'attribution' AND g.target = x.row);
CREATE VIEW "current_assumption" AS SELECT x.* FROM "assumption" AS x
 WHERE x.act_id <= 9223372036854775807 AND NOT EXISTS (SELECT 1 FROM void_act AS v WHERE v.act_id = x.act_id)
   AND NOT EXISTS (SELECT 1 FROM gone AS g WHERE g.kind = 'assumption' AND g.target = x.row);
CREATE VIEW "current_set_aside" AS SELECT x.* FROM "set_aside" AS x
 WHERE x.act_id <= 9223372036854775807 AND NOT EXISTS (SELECT 1 FROM void_act AS v WHERE v.act_id = x.act_id)
   AND NOT EXISTS (SELECT 1 FROM gone AS g WHERE g.kind = 'set_aside' AND g.target = x.row);
CREATE VIEW "current_link" AS SELECT x.* FROM "link" AS x
 WHERE x.act_id <= 9223372036854775807 AND NOT EXISTS (SELECT 1 FROM void_act AS v WHERE v.act_id = x.act_id)
   AND NOT EXISTS (SELECT 1 FROM gone AS g WHERE g.kind = 'link' AND g.target = x.row);
CREATE VIEW "current_fact" AS SELECT x.* FROM "fact" AS x
 WHERE x.act_id <= 9223372036854775807 AND NOT EXISTS (SELECT 1 FROM void_act AS v WHERE v.act_id = x.act_id)
   AND NOT EXISTS (SELECT 1 FROM gone AS g WHERE g.kind = 'fact' AND g.target = x.row);
CREATE VIEW "current_clue" AS SELECT x.* FROM "clue" AS x
 WHERE x.act_id <= 9223372036854775807 AND NOT EXISTS (SELECT 1 FROM void_act AS v WHERE v.act_id = x.act_id)
   AND NOT EXISTS (SELECT 1 FROM gone AS g WHERE g.kind = 'clue' AND g.target = x.row);
CREATE VIEW "current_entry" AS SELECT x.* FROM "entry" AS x
 WHERE x.act_id <= 9223372036854775807 AND NOT EXISTS (SELECT 1 FROM void_act AS v WHERE v.act_id = x.act_id)
   AND NOT EXISTS (SELECT 1 FROM gone AS g WHERE g.kind = 'entry' AND g.target = x.row);
CREATE VIEW current_source_file AS SELECT x.* FROM source_file AS x
 WHERE x.act_id <= 9223372036854775807 AND NOT EXISTS (SELECT 1 FROM void_act AS v WHERE v.act_id = x.act_id);
-- Who bears an entry now: the latest decision, else what was recorded with it.
CREATE VIEW bearer AS SELECT e.row AS entry_row, coalesce(e.id, e.row) AS entry_id, e.surname_id, e.edition_id,
  CASE WHEN l.row IS NULL THEN e.person_id ELSE l.person_id END AS person_id
  FROM current_entry AS e LEFT JOIN current_link AS l ON l.entry_id = coalesce(e.id, e.row);

-- Rows are only added.
CREATE TRIGGER "act_fixed" BEFORE UPDATE ON "act" BEGIN SELECT RAISE(ABORT, 'rows of the ledger are never changed'); END;
CREATE TRIGGER "act_kept" BEFORE DELETE ON "act" BEGIN SELECT RAISE(ABORT, 'rows of the ledger are never deleted'); END;
CREATE TRIGGER "seal_fixed" BEFORE UPDATE ON "seal" BEGIN SELECT RAISE(ABORT, 'rows of the ledger are never changed'); END;
CREATE TRIGGER "seal_kept" BEFORE DELETE ON "seal" BEGIN SELECT RAISE(ABORT, 'rows of the ledger are never deleted'); END;
CREATE TRIGGER "standing_fixed" BEFORE UPDATE ON "standing" BEGIN SELECT RAISE(ABORT, 'rows of the ledger are never changed'); END;
CREATE TRIGGER "standing_kept" BEFORE DELETE ON "standing" BEGIN SELECT RAISE(ABORT, 'rows of the ledger are never deleted'); END;
CREATE TRIGGER "replaced_fixed" BEFORE UPDATE ON "replaced" BEGIN SELECT RAISE(ABORT, 'rows of the ledger are never changed'); END;
CREATE TRIGGER "replaced_kept" BEFORE DELETE ON "replaced" BEGIN SELECT RAISE(ABORT, 'rows of the ledger are never deleted'); END;
CREATE TRIGGER "surname_fixed" BEFORE UPDATE ON "surname" BEGIN SELECT RAISE(ABORT, 'rows of the ledger are never changed'); END;
CREATE TRIGGER "surname_kept" BEFORE DELETE ON "surname" BEGIN SELECT RAISE(ABORT, 'rows of the ledger are never deleted'); END;
CREATE TRIGGER "printed_name_fixed" BEFORE UPDATE ON "printed_name" BEGIN SELECT RAISE(ABORT, 'rows of the ledger are never changed'); END;
CREATE TRIGGER "printed_name_kept" BEFORE DELETE ON "printed_name" BEGIN SELECT RAISE(ABORT, 'rows of the ledger are never deleted'); END;
CREATE TRIGGER "rank_style_fixed" BEFORE UPDATE ON "rank_style" BEGIN SELECT RAISE(ABORT, 'rows of the ledger are never changed'); END;
CREATE TRIGGER "rank_style_kept" BEFORE DELETE ON "rank_style" BEGIN SELECT RAISE(ABORT, 'rows of the ledger are never deleted'); END;
CREATE TRIGGER "corps_style_fixed" BEFORE UPDATE ON "corps_style" BEGIN SELECT RAISE(ABORT, 'rows of the ledger are never changed'); END;
CREATE TRIGGER "corps_style_kept" BEFORE DELETE ON "corps_style" BEGIN SELECT RAISE(ABORT, 'rows of the ledger are never deleted'); END;
CREATE TRIGGER "date_expression_fixed" BEFORE UPDATE ON "date_expression" BEGIN SELECT RAISE(ABORT, 'rows of the ledger are never changed'); END;
CREATE TRIGGER "date_expression_kept" BEFORE DELETE ON "date_expression" BEGIN SELECT RAISE(ABORT, 'rows of the ledger are never deleted'); END;
CREATE TRIGGER "source_file_fixed" BEFORE UPDATE ON "source_file" BEGIN SELECT RAISE(ABORT, 'rows of the ledger are never changed'); END;
CREATE TRIGGER "source_file_kept" BEFORE DELETE ON "source_file" BEGIN SELECT RAISE(ABORT, 'rows of the ledger are never deleted'); END;
CREATE TRIGGER "entry_fixed" BEFORE UPDATE ON "entry" BEGIN SELECT RAISE(ABORT, 'rows of the ledger are never changed'); END;
CREATE TRIGGER "entry_kept" BEFORE DELETE ON "entry" BEGIN SELECT RAISE(ABORT, 'rows of the ledger are never deleted'); END;
CREATE TRIGGER "entry_run_fixed" BEFORE UPDATE ON "entry_run" BEGIN SELECT RAISE(ABORT, 'rows of the ledger are never changed'); END;
CREATE TRIGGER "entry_run_kept" BEFORE DELETE ON "entry_run" BEGIN SELECT RAISE(ABORT, 'rows of the ledger are never deleted'); END;
CREATE TRIGGER "service_fixed" BEFORE UPDATE ON "service" BEGIN SELECT RAISE(ABORT, 'rows of the ledger are never changed'); END;
CREATE TRIGGER "service_kept" BEFORE DELETE ON "service" BEGIN SELECT RAISE(ABORT, 'rows of the ledger are never deleted'); END;
CREATE TRIGGER "rank_fixed" BEFORE UPDATE ON "rank" BEGIN SELECT RAISE(ABORT, 'rows of the ledger are never changed'); END;
CREATE TRIGGER "rank_kept" BEFORE DELETE ON "rank" BEGIN SELECT RAISE(ABORT, 'rows of the ledger are never deleted'); END;
CREATE TRIGGER "corps_fixed" BEFORE UPDATE ON "corps" BEGIN SELECT RAISE(ABORT, 'rows of the ledger are never changed'); END;
CREATE TRIGGER "corps_kept" BEFORE DELETE ON "corps" BEGIN SELECT RAISE(ABORT, 'rows of the ledger are never deleted'); END;
CREATE TRIGGER "series_fixed" BEFORE UPDATE ON "series" BEGIN SELECT RAISE(ABORT, 'rows of the ledger are never changed'); END;
CREATE TRIGGER "series_kept" BEFORE DELETE ON "series" BEGIN SELECT RAISE(ABORT, 'rows of the ledger are never deleted'); END;
CREATE TRIGGER "edition_fixed" BEFORE UPDATE ON "edition" BEGIN SELECT RAISE(ABORT, 'rows of the ledger are never changed'); END;
CREATE TRIGGER "edition_kept" BEFORE DELETE ON "edition" BEGIN SELECT RAISE(ABORT, 'rows of the ledger are never deleted'); END;
CREATE TRIGGER "person_fixed" BEFORE UPDATE ON "person" BEGIN SELECT RAISE(ABORT, 'rows of the ledger are never changed'); END;
CREATE TRIGGER "person_kept" BEFORE DELETE ON "person" BEGIN SELECT RAISE(ABORT, 'rows of the ledger are never deleted'); END;
CREATE TRIGGER "name_form_fixed" BEFORE UPDATE ON "name_form" BEGIN SELECT RAISE(ABORT, 'rows of the ledger are never changed'); END;
CREATE TRIGGER "name_form_kept" BEFORE DELETE ON "name_form" BEGIN SELECT RAISE(ABORT, 'rows of the ledger are never deleted'); END;
CREATE TRIGGER "same_fixed" BEFORE UPDATE ON "same" BEGIN SELECT RAISE(ABORT, 'rows of the ledger are never changed'); END;
CREATE TRIGGER "same_kept" BEFORE DELETE ON "same" BEGIN SELECT RAISE(ABORT, 'rows of the ledger are never deleted'); END;
CREATE TRIGGER "differ_fixed" BEFORE UPDATE ON "differ" BEGIN SELECT RAISE(ABORT, 'rows of the ledger are never changed'); END;
CREATE TRIGGER "differ_kept" BEFORE DELETE ON "differ" BEGIN SELECT RAISE(ABORT, 'rows of the ledger are never deleted'); END;
CREATE TRIGGER "kin_fixed" BEFORE UPDATE ON "kin" BEGIN SELECT RAISE(ABORT, 'rows of the ledger are never changed'); END;
CREATE TRIGGER "kin_kept" BEFORE DELETE ON "kin" BEGIN SELECT RAISE(ABORT, 'rows of the ledger are never deleted'); END;
CREATE TRIGGER "search_fixed" BEFORE UPDATE ON "search" BEGIN SELECT RAISE(ABORT, 'rows of the ledger are never changed'); END;
CREATE TRIGGER "search_kept" BEFORE DELETE ON "search" BEGIN SELECT RAISE(ABORT, 'rows of the ledger are never deleted'); END;
CREATE TRIGGER "notice_fixed" BEFORE UPDATE ON "notice" BEGIN SELECT RAISE(ABORT, 'rows of the ledger are never changed'); END;
CREATE TRIGGER "notice_kept" BEFORE DELETE ON "notice" BEGIN SELECT RAISE(ABORT, 'rows of the ledger are never deleted'); END;
CREATE TRIGGER "condition_fixed" BEFORE UPDATE ON "condition" BEGIN SELECT RAISE(ABORT, 'rows of the ledger are never changed'); END;
CREATE TRIGGER "condition_kept" BEFORE DELETE ON "condition" BEGIN SELECT RAISE(ABORT, 'rows of the ledger are never deleted'); END;
CREATE TRIGGER "object_fixed" BEFORE UPDATE ON "object" BEGIN SELECT RAISE(ABORT, 'rows of the ledger are never changed'); END;
CREATE TRIGGER "object_kept" BEFORE DELETE ON "object" BEGIN SELECT RAISE(ABORT, 'rows of the ledger are never deleted'); END;
CREATE TRIGGER "feature_fixed" BEFORE UPDATE ON "feature" BEGIN SELECT RAISE(ABORT, 'rows of the ledger are never changed'); END;
CREATE TRIGGER "feature_kept" BEFORE DELETE ON "feature" BEGIN SELECT RAISE(ABORT, 'rows of the ledger are never deleted'); END;
CREATE TRIGGER "mark_fixed" BEFORE UPDATE ON "mark" BEGIN SELECT RAISE(ABORT, 'rows of the ledger are never changed'); END;
CREATE TRIGGER "mark_kept" BEFORE DELETE ON "mark" BEGIN SELECT RAISE(ABORT, 'rows of the ledger are never deleted'); END;
CREATE TRIGGER "reading_fixed" BEFORE UPDATE ON "reading" BEGIN SELECT RAISE(ABORT, 'rows of the ledger are never changed'); END;
CREATE TRIGGER "reading_kept" BEFORE DELETE ON "reading" BEGIN SELECT RAISE(ABORT, 'rows of the ledger are never deleted'); END;
CREATE TRIGGER "photo_fixed" BEFORE UPDATE ON "photo" BEGIN SELECT RAISE(ABORT, 'rows of the ledger are never changed'); END;
CREATE TRIGGER "photo_kept" BEFORE DELETE ON "photo" BEGIN SELECT RAISE(ABORT, 'rows of the ledger are never deleted'); END;
CREATE TRIGGER "attribution_fixed" BEFORE UPDATE ON "attribution" BEGIN SELECT RAISE(ABORT, 'rows of the ledger are never changed'); END;
CREATE TRIGGER "attribution_kept" BEFORE DELETE ON "attribution" BEGIN SELECT RAISE(ABORT, 'rows of the ledger are never deleted'); END;
CREATE TRIGGER "assumption_fixed" BEFORE UPDATE ON "assumption" BEGIN SELECT RAISE(ABORT, 'rows of the ledger are never changed'); END;
CREATE TRIGGER "assumption_kept" BEFORE DELETE ON "assumption" BEGIN SELECT RAISE(ABORT, 'rows of the ledger are never deleted'); END;
CREATE TRIGGER "set_aside_fixed" BEFORE UPDATE ON "set_aside" BEGIN SELECT RAISE(ABORT, 'rows of the ledger are never changed'); END;
CREATE TRIGGER "set_aside_kept" BEFORE DELETE ON "set_aside" BEGIN SELECT RAISE(ABORT, 'rows of the ledger are never deleted'); END;
CREATE TRIGGER "link_fixed" BEFORE UPDATE ON "link" BEGIN SELECT RAISE(ABORT, 'rows of the ledger are never changed'); END;
CREATE TRIGGER "link_kept" BEFORE DELETE ON "link" BEGIN SELECT RAISE(ABORT, 'rows of the ledger are never deleted'); END;
CREATE TRIGGER "fact_fixed" BEFORE UPDATE ON "fact" BEGIN SELECT RAISE(ABORT, 'rows of the ledger are never changed'); END;
CREATE TRIGGER "fact_kept" BEFORE DELETE ON "fact" BEGIN SELECT RAISE(ABORT, 'rows of the ledger are never deleted'); END;
CREATE TRIGGER "clue_fixed" BEFORE UPDATE ON "clue" BEGIN SELECT RAISE(ABORT, 'rows of the ledger are never changed'); END;
CREATE TRIGGER "clue_kept" BEFORE DELETE ON "clue" BEGIN SELECT RAISE(ABORT, 'rows of the ledger are never deleted'); END;
