-- Temperature loggers' files, and looks at the wood.

-- CreateEnum
CREATE TYPE "mould_seen" AS ENUM ('none', 'wrapping', 'cut_ends', 'bark', 'buds');

-- CreateEnum
CREATE TYPE "shrivel_seen" AS ENUM ('none', 'slight', 'clear');

-- CreateEnum
CREATE TYPE "nick_test" AS ENUM ('green', 'brown', 'not_done');

-- CreateEnum
CREATE TYPE "inspection_decision" AS ENUM ('keep', 'hold', 'reject');

-- AlterTable
ALTER TABLE "reading" ADD COLUMN     "import_id" UUID;

-- CreateTable
CREATE TABLE "reading_import" (
    "group_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "store_id" UUID NOT NULL,
    "file_name" TEXT NOT NULL,
    "file_hash" CHAR(64) NOT NULL,
    "readings_written" INTEGER NOT NULL,
    "first_at" TIMESTAMPTZ(6) NOT NULL,
    "last_at" TIMESTAMPTZ(6) NOT NULL,
    "lowest" DECIMAL(5,2) NOT NULL,
    "highest" DECIMAL(5,2) NOT NULL,
    "imported_by_id" UUID NOT NULL,
    "imported_at" TIMESTAMPTZ(6) NOT NULL,
    "taken_back_by_id" UUID,
    "taken_back_at" TIMESTAMPTZ(6),
    "taken_back_reason" TEXT,

    CONSTRAINT "reading_import_pkey" PRIMARY KEY ("group_id","id")
);

-- CreateTable
CREATE TABLE "reading_draft" (
    "group_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "store_id" UUID NOT NULL,
    "drafted_by_id" UUID NOT NULL,
    "file_name" TEXT NOT NULL,
    "content" BYTEA NOT NULL,
    "drafted_at" TIMESTAMPTZ(6) NOT NULL,

    CONSTRAINT "reading_draft_pkey" PRIMARY KEY ("group_id","id")
);

-- CreateTable
CREATE TABLE "inspection" (
    "group_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "lot_id" UUID NOT NULL,
    "inspected_at" TIMESTAMPTZ(6) NOT NULL,
    "inspector_id" UUID NOT NULL,
    "recorded_by_id" UUID NOT NULL,
    "recorded_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "condition" INTEGER NOT NULL,
    "mould" "mould_seen" NOT NULL,
    "shrivel" "shrivel_seen" NOT NULL,
    "bud_stage" INTEGER,
    "nick" "nick_test" NOT NULL,
    "note" TEXT,
    "decision" "inspection_decision" NOT NULL,
    "hold_id" UUID,
    "move_id" UUID,
    "supersedes_id" UUID,

    CONSTRAINT "inspection_pkey" PRIMARY KEY ("group_id","id")
);

-- CreateIndex
CREATE INDEX "reading_import_group_id_store_id_imported_at_idx" ON "reading_import"("group_id", "store_id", "imported_at");

-- CreateIndex
CREATE UNIQUE INDEX "reading_import_group_id_id_store_id_key" ON "reading_import"("group_id", "id", "store_id");

-- CreateIndex
CREATE INDEX "reading_draft_drafted_at_idx" ON "reading_draft"("drafted_at");

-- CreateIndex
CREATE INDEX "inspection_group_id_lot_id_inspected_at_idx" ON "inspection"("group_id", "lot_id", "inspected_at");

-- CreateIndex
CREATE UNIQUE INDEX "inspection_group_id_id_lot_id_key" ON "inspection"("group_id", "id", "lot_id");

-- CreateIndex
CREATE UNIQUE INDEX "inspection_group_id_hold_id_lot_id_key" ON "inspection"("group_id", "hold_id", "lot_id");

-- CreateIndex
CREATE UNIQUE INDEX "inspection_group_id_move_id_lot_id_key" ON "inspection"("group_id", "move_id", "lot_id");

-- CreateIndex
CREATE UNIQUE INDEX "inspection_group_id_supersedes_id_lot_id_key" ON "inspection"("group_id", "supersedes_id", "lot_id");

-- CreateIndex
CREATE UNIQUE INDEX "health_hold_group_id_id_lot_id_key" ON "health_hold"("group_id", "id", "lot_id");

-- CreateIndex
CREATE UNIQUE INDEX "move_group_id_id_lot_id_key" ON "move"("group_id", "id", "lot_id");

-- CreateIndex
CREATE INDEX "reading_group_id_import_id_idx" ON "reading"("group_id", "import_id");

-- AddForeignKey
ALTER TABLE "reading" ADD CONSTRAINT "reading_group_id_import_id_store_id_fkey" FOREIGN KEY ("group_id", "import_id", "store_id") REFERENCES "reading_import"("group_id", "id", "store_id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "reading_import" ADD CONSTRAINT "reading_import_group_id_store_id_fkey" FOREIGN KEY ("group_id", "store_id") REFERENCES "store"("group_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "reading_import" ADD CONSTRAINT "reading_import_group_id_imported_by_id_fkey" FOREIGN KEY ("group_id", "imported_by_id") REFERENCES "member"("group_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "reading_import" ADD CONSTRAINT "reading_import_group_id_taken_back_by_id_fkey" FOREIGN KEY ("group_id", "taken_back_by_id") REFERENCES "member"("group_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "reading_draft" ADD CONSTRAINT "reading_draft_group_id_store_id_fkey" FOREIGN KEY ("group_id", "store_id") REFERENCES "store"("group_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "reading_draft" ADD CONSTRAINT "reading_draft_group_id_drafted_by_id_fkey" FOREIGN KEY ("group_id", "drafted_by_id") REFERENCES "member"("group_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "inspection" ADD CONSTRAINT "inspection_group_id_lot_id_fkey" FOREIGN KEY ("group_id", "lot_id") REFERENCES "lot"("group_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "inspection" ADD CONSTRAINT "inspection_group_id_inspector_id_fkey" FOREIGN KEY ("group_id", "inspector_id") REFERENCES "member"("group_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "inspection" ADD CONSTRAINT "inspection_group_id_recorded_by_id_fkey" FOREIGN KEY ("group_id", "recorded_by_id") REFERENCES "member"("group_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "inspection" ADD CONSTRAINT "inspection_group_id_hold_id_lot_id_fkey" FOREIGN KEY ("group_id", "hold_id", "lot_id") REFERENCES "health_hold"("group_id", "id", "lot_id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "inspection" ADD CONSTRAINT "inspection_group_id_move_id_lot_id_fkey" FOREIGN KEY ("group_id", "move_id", "lot_id") REFERENCES "move"("group_id", "id", "lot_id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "inspection" ADD CONSTRAINT "inspection_group_id_supersedes_id_lot_id_fkey" FOREIGN KEY ("group_id", "supersedes_id", "lot_id") REFERENCES "inspection"("group_id", "id", "lot_id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- ---- what may stand in a row ---------------------------------------------------------------

ALTER TABLE reading
  ADD CONSTRAINT reading_of_a_file_is_a_loggers CHECK (import_id IS NULL OR basis = 'logger');

ALTER TABLE reading_import
  ADD CONSTRAINT reading_import_names_its_file CHECK (btrim(file_name) <> '' AND file_hash ~ '^[0-9a-f]{64}$'),
  ADD CONSTRAINT reading_import_brought_something CHECK (readings_written >= 1),
  ADD CONSTRAINT reading_import_runs_forwards CHECK (first_at <= last_at AND lowest <= highest),
  ADD CONSTRAINT reading_import_taken_back_says_who_when_why CHECK (
    (taken_back_by_id IS NULL AND taken_back_at IS NULL AND taken_back_reason IS NULL)
    OR (taken_back_by_id IS NOT NULL AND taken_back_at IS NOT NULL AND btrim(coalesce(taken_back_reason, '')) <> ''));

ALTER TABLE reading_draft
  ADD CONSTRAINT reading_draft_names_its_file CHECK (btrim(file_name) <> ''),
  ADD CONSTRAINT reading_draft_is_of_a_bearable_size CHECK (octet_length(content) BETWEEN 1 AND 3145728);

ALTER TABLE inspection
  ADD CONSTRAINT inspection_condition_is_one_to_five CHECK (condition BETWEEN 1 AND 5),
  ADD CONSTRAINT inspection_bud_stage_is_bbch CHECK (bud_stage IS NULL OR bud_stage BETWEEN 0 AND 99),
  ADD CONSTRAINT inspection_does_not_stand_in_for_itself CHECK (supersedes_id <> id),
  ADD CONSTRAINT inspection_that_holds_names_the_hold CHECK ((decision = 'hold') = (hold_id IS NOT NULL)),
  ADD CONSTRAINT inspection_that_rejects_names_the_move CHECK ((decision = 'reject') = (move_id IS NOT NULL));

-- ---- entries that are never edited ---------------------------------------------------------

CREATE TRIGGER inspection_is_append_only BEFORE UPDATE OR DELETE ON inspection FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER inspections_are_not_truncated BEFORE TRUNCATE ON inspection FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER reading_is_not_edited BEFORE UPDATE ON reading FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER readings_are_not_truncated BEFORE TRUNCATE ON reading FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER reading_import_stays BEFORE DELETE ON reading_import FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER reading_imports_are_not_truncated BEFORE TRUNCATE ON reading_import FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

-- An import changes once, when it is taken back.
CREATE TRIGGER reading_import_is_taken_back_once BEFORE UPDATE ON reading_import FOR EACH ROW
  WHEN (OLD.taken_back_at IS NOT NULL
    OR NEW.taken_back_at IS NULL
    OR (OLD.group_id, OLD.id, OLD.store_id, OLD.file_name, OLD.file_hash, OLD.readings_written, OLD.first_at, OLD.last_at,
        OLD.lowest, OLD.highest, OLD.imported_by_id, OLD.imported_at)
      IS DISTINCT FROM
      (NEW.group_id, NEW.id, NEW.store_id, NEW.file_name, NEW.file_hash, NEW.readings_written, NEW.first_at, NEW.last_at,
        NEW.lowest, NEW.highest, NEW.imported_by_id, NEW.imported_at))
  EXECUTE FUNCTION refuse_change();

-- A reading goes only with the import that brought it, and none joins an import that was taken back.
CREATE FUNCTION refuse_reading_against_its_import() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = public, pg_temp AS $$
DECLARE v reading; v_taken_back boolean;
BEGIN
  v := CASE WHEN TG_OP = 'DELETE' THEN OLD ELSE NEW END;
  SELECT i.taken_back_at IS NOT NULL INTO v_taken_back FROM reading_import i WHERE i.group_id = v.group_id AND i.id = v.import_id;
  IF TG_OP = 'DELETE' AND v_taken_back IS NOT TRUE THEN
    RAISE EXCEPTION 'A reading stays until its import is taken back' USING ERRCODE = 'TW001';
  END IF;
  IF TG_OP = 'INSERT' AND v_taken_back THEN
    RAISE EXCEPTION 'This import was taken back' USING ERRCODE = 'TW022';
  END IF;
  RETURN v;
END $$;
CREATE TRIGGER reading_stays_with_its_import BEFORE DELETE ON reading
  FOR EACH ROW EXECUTE FUNCTION refuse_reading_against_its_import();
CREATE TRIGGER reading_joins_a_standing_import BEFORE INSERT ON reading
  FOR EACH ROW WHEN (NEW.import_id IS NOT NULL) EXECUTE FUNCTION refuse_reading_against_its_import();

-- Takes an import back with all its readings, once; gives how many there were.
CREATE FUNCTION take_back_reading_import(p_group uuid, p_import uuid, p_by uuid, p_at timestamptz, p_reason text)
RETURNS integer LANGUAGE plpgsql SECURITY DEFINER SET search_path = public, pg_temp AS $$
DECLARE v_count integer;
BEGIN
  UPDATE reading_import SET taken_back_by_id = p_by, taken_back_at = p_at, taken_back_reason = p_reason
    WHERE group_id = p_group AND id = p_import AND taken_back_at IS NULL;
  IF NOT FOUND THEN
    RAISE EXCEPTION 'No import to take back' USING ERRCODE = 'TW022';
  END IF;
  DELETE FROM reading WHERE group_id = p_group AND import_id = p_import;
  GET DIAGNOSTICS v_count = ROW_COUNT;
  RETURN v_count;
END $$;

-- ---- what the application may do -----------------------------------------------------------

REVOKE ALL ON FUNCTION take_back_reading_import, refuse_reading_against_its_import FROM PUBLIC;
GRANT EXECUTE ON FUNCTION take_back_reading_import TO tallywood_app;
GRANT SELECT, INSERT ON reading_import, reading_draft, inspection TO tallywood_app;
GRANT DELETE ON reading_draft TO tallywood_app;
