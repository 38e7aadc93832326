-- By which a changed row is named: 32 bits for each row of an act, in the order in which they are hashed, table by table.
-- Sealed with the act, but no row of it that counts. Acts sealed in an earlier format have none: of them only the act is
-- named.
CREATE TABLE row_check (
  act_id INTEGER NOT NULL REFERENCES act (id),
  part INTEGER NOT NULL,      -- counted from 0 within the act
  "table" TEXT NOT NULL,
  checks BLOB NOT NULL,       -- 4 bytes a row, the least first
  PRIMARY KEY (act_id, part)
) STRICT, WITHOUT ROWID;
CREATE TRIGGER "row_check_fixed" BEFORE UPDATE ON "row_check" BEGIN SELECT RAISE(ABORT, 'rows of the ledger are never changed'); END;
CREATE TRIGGER "row_check_kept" BEFORE DELETE ON "row_check" BEGIN SELECT RAISE(ABORT, 'rows of the ledger are never deleted'); END;
