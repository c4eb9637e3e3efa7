-- Looks with their checkpoint and state, mailed links that answer them, care, calendars, photos.

-- CreateEnum
CREATE TYPE "unknown_why" AS ENUM ('not_attempted', 'label_lost');

-- CreateEnum
CREATE TYPE "care_answer_kind" AS ENUM ('done', 'deferred', 'not_needed');

-- AlterTable
ALTER TABLE "attempt" ADD COLUMN     "batch_id" UUID,
ADD COLUMN     "batch_place" INTEGER,
ADD COLUMN     "bottom_heat_c" DECIMAL(4,1),
ADD COLUMN     "hormone" BOOLEAN,
ADD COLUMN     "host_limb_id" UUID,
ADD COLUMN     "nodes" INTEGER,
ADD COLUMN     "wrap" TEXT;

-- AlterTable
ALTER TABLE "check_cause" ADD COLUMN     "words" TEXT;

-- AlterTable
ALTER TABLE "outbox_mail" ADD COLUMN     "unsubscribe_url" TEXT;

-- AlterTable
ALTER TABLE "outcome_check" ADD COLUMN     "checkpoint" TEXT,
ADD COLUMN     "link_id" UUID,
ADD COLUMN     "state" TEXT,
ADD COLUMN     "unknown_why" "unknown_why";

-- CreateTable
CREATE TABLE "check_link" (
    "group_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "attempt_id" UUID NOT NULL,
    "checkpoint" TEXT NOT NULL,
    "member_id" UUID NOT NULL,
    "token_hash" CHAR(64) NOT NULL,
    "created_at" TIMESTAMPTZ(6) NOT NULL,
    "expires_at" TIMESTAMPTZ(6) NOT NULL,

    CONSTRAINT "check_link_pkey" PRIMARY KEY ("group_id","id")
);

-- CreateTable
CREATE TABLE "reminder" (
    "group_id" UUID NOT NULL,
    "attempt_id" UUID NOT NULL,
    "checkpoint" TEXT NOT NULL,
    "nth" INTEGER NOT NULL,
    "member_id" UUID NOT NULL,
    "mail_id" UUID NOT NULL,
    "sent_at" TIMESTAMPTZ(6) NOT NULL,

    CONSTRAINT "reminder_pkey" PRIMARY KEY ("group_id","attempt_id","checkpoint","nth")
);

-- CreateTable
CREATE TABLE "mail_choice" (
    "group_id" UUID NOT NULL,
    "member_id" UUID NOT NULL,
    "reminders" BOOLEAN NOT NULL DEFAULT true,
    "digest" BOOLEAN NOT NULL DEFAULT true,
    "changed_at" TIMESTAMPTZ(6) NOT NULL,

    CONSTRAINT "mail_choice_pkey" PRIMARY KEY ("group_id","member_id")
);

-- CreateTable
CREATE TABLE "week_mail" (
    "group_id" UUID NOT NULL,
    "member_id" UUID NOT NULL,
    "week_of" DATE NOT NULL,
    "needs" INTEGER NOT NULL,
    "sent_at" TIMESTAMPTZ(6) NOT NULL,

    CONSTRAINT "week_mail_pkey" PRIMARY KEY ("group_id","member_id","week_of")
);

-- CreateTable
CREATE TABLE "care_answer" (
    "group_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "seq" BIGSERIAL NOT NULL,
    "attempt_id" UUID NOT NULL,
    "task" TEXT NOT NULL,
    "answer" "care_answer_kind" NOT NULL,
    "reason" TEXT,
    "deferred_until" DATE,
    "answered_on" DATE NOT NULL,
    "answered_by_id" UUID NOT NULL,
    "recorded_at" TIMESTAMPTZ(6) NOT NULL,

    CONSTRAINT "care_answer_pkey" PRIMARY KEY ("group_id","id")
);

-- CreateTable
CREATE TABLE "calendar_feed" (
    "group_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "member_id" UUID NOT NULL,
    "token_hash" CHAR(64) NOT NULL,
    "created_at" TIMESTAMPTZ(6) NOT NULL,
    "revoked_at" TIMESTAMPTZ(6),

    CONSTRAINT "calendar_feed_pkey" PRIMARY KEY ("group_id","id")
);

-- CreateTable
CREATE TABLE "photo" (
    "group_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "check_id" UUID,
    "tree_id" UUID,
    "sha256" CHAR(64) NOT NULL,
    "width" INTEGER NOT NULL,
    "height" INTEGER NOT NULL,
    "bytes" INTEGER NOT NULL,
    "added_by_id" UUID NOT NULL,
    "added_at" TIMESTAMPTZ(6) NOT NULL,
    "removed_by_id" UUID,
    "removed_at" TIMESTAMPTZ(6),

    CONSTRAINT "photo_pkey" PRIMARY KEY ("group_id","id")
);

-- CreateIndex
CREATE UNIQUE INDEX "check_link_token_hash_key" ON "check_link"("token_hash");

-- CreateIndex
CREATE UNIQUE INDEX "check_link_group_id_id_attempt_id_key" ON "check_link"("group_id", "id", "attempt_id");

-- CreateIndex
CREATE UNIQUE INDEX "check_link_group_id_attempt_id_checkpoint_member_id_key" ON "check_link"("group_id", "attempt_id", "checkpoint", "member_id");

-- CreateIndex
CREATE INDEX "reminder_group_id_member_id_idx" ON "reminder"("group_id", "member_id");

-- CreateIndex
CREATE INDEX "care_answer_group_id_attempt_id_seq_idx" ON "care_answer"("group_id", "attempt_id", "seq");

-- CreateIndex
CREATE UNIQUE INDEX "calendar_feed_token_hash_key" ON "calendar_feed"("token_hash");

-- CreateIndex
CREATE INDEX "calendar_feed_group_id_member_id_idx" ON "calendar_feed"("group_id", "member_id");

-- CreateIndex
CREATE INDEX "photo_group_id_check_id_idx" ON "photo"("group_id", "check_id");

-- CreateIndex
CREATE INDEX "photo_group_id_tree_id_idx" ON "photo"("group_id", "tree_id");

-- CreateIndex
CREATE UNIQUE INDEX "attempt_group_id_batch_id_batch_place_key" ON "attempt"("group_id", "batch_id", "batch_place");

-- CreateIndex
CREATE UNIQUE INDEX "limb_group_id_id_tree_id_key" ON "limb"("group_id", "id", "tree_id");

-- AddForeignKey
ALTER TABLE "attempt" ADD CONSTRAINT "attempt_group_id_host_limb_id_host_tree_id_fkey" FOREIGN KEY ("group_id", "host_limb_id", "host_tree_id") REFERENCES "limb"("group_id", "id", "tree_id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "outcome_check" ADD CONSTRAINT "outcome_check_group_id_link_id_attempt_id_fkey" FOREIGN KEY ("group_id", "link_id", "attempt_id") REFERENCES "check_link"("group_id", "id", "attempt_id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "check_link" ADD CONSTRAINT "check_link_group_id_attempt_id_fkey" FOREIGN KEY ("group_id", "attempt_id") REFERENCES "attempt"("group_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "check_link" ADD CONSTRAINT "check_link_group_id_member_id_fkey" FOREIGN KEY ("group_id", "member_id") REFERENCES "member"("group_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "reminder" ADD CONSTRAINT "reminder_group_id_attempt_id_fkey" FOREIGN KEY ("group_id", "attempt_id") REFERENCES "attempt"("group_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "reminder" ADD CONSTRAINT "reminder_group_id_member_id_fkey" FOREIGN KEY ("group_id", "member_id") REFERENCES "member"("group_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "mail_choice" ADD CONSTRAINT "mail_choice_group_id_member_id_fkey" FOREIGN KEY ("group_id", "member_id") REFERENCES "member"("group_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "week_mail" ADD CONSTRAINT "week_mail_group_id_member_id_fkey" FOREIGN KEY ("group_id", "member_id") REFERENCES "member"("group_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "care_answer" ADD CONSTRAINT "care_answer_group_id_attempt_id_fkey" FOREIGN KEY ("group_id", "attempt_id") REFERENCES "attempt"("group_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "care_answer" ADD CONSTRAINT "care_answer_group_id_answered_by_id_fkey" FOREIGN KEY ("group_id", "answered_by_id") REFERENCES "member"("group_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "calendar_feed" ADD CONSTRAINT "calendar_feed_group_id_member_id_fkey" FOREIGN KEY ("group_id", "member_id") REFERENCES "member"("group_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "photo" ADD CONSTRAINT "photo_group_id_check_id_fkey" FOREIGN KEY ("group_id", "check_id") REFERENCES "outcome_check"("group_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "photo" ADD CONSTRAINT "photo_group_id_tree_id_fkey" FOREIGN KEY ("group_id", "tree_id") REFERENCES "tree"("group_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "photo" ADD CONSTRAINT "photo_group_id_added_by_id_fkey" FOREIGN KEY ("group_id", "added_by_id") REFERENCES "member"("group_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "photo" ADD CONSTRAINT "photo_group_id_removed_by_id_fkey" FOREIGN KEY ("group_id", "removed_by_id") REFERENCES "member"("group_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- ---- what may stand in a row ---------------------------------------------------------------

ALTER TABLE attempt
  ADD CONSTRAINT attempt_names_its_wrap CHECK (wrap IS NULL OR btrim(wrap) <> ''),
  ADD CONSTRAINT attempt_on_a_limb_names_its_tree CHECK (host_limb_id IS NULL OR host_tree_id IS NOT NULL),
  ADD CONSTRAINT attempt_has_some_nodes CHECK (nodes IS NULL OR nodes BETWEEN 1 AND 100),
  ADD CONSTRAINT attempt_is_kept_warm_from_below CHECK (bottom_heat_c IS NULL OR bottom_heat_c BETWEEN 0 AND 50),
  ADD CONSTRAINT attempt_has_a_place_in_its_batch CHECK (
    (batch_id IS NULL) = (batch_place IS NULL) AND coalesce(batch_place, 1) BETWEEN 1 AND 500);

ALTER TABLE outcome_check
  ADD CONSTRAINT check_names_its_checkpoint CHECK (checkpoint IS NULL OR btrim(checkpoint) <> ''),
  ADD CONSTRAINT check_state_is_of_the_living CHECK (state IS NULL OR (btrim(state) <> '' AND alive > 0)),
  ADD CONSTRAINT check_says_why_of_the_unknown CHECK (unknown_why IS NULL OR unknown > 0);

ALTER TABLE check_cause
  ADD CONSTRAINT cause_in_own_words_has_words CHECK ((cause = 'own-words') = (btrim(coalesce(words, '')) <> ''));

ALTER TABLE check_link
  ADD CONSTRAINT check_link_keeps_a_hash CHECK (token_hash ~ '^[0-9a-f]{64}$'),
  ADD CONSTRAINT check_link_runs_out CHECK (expires_at > created_at),
  ADD CONSTRAINT check_link_names_its_checkpoint CHECK (btrim(checkpoint) <> '');

ALTER TABLE reminder
  ADD CONSTRAINT reminders_are_two_at_most CHECK (nth IN (1, 2)),
  ADD CONSTRAINT reminder_names_its_checkpoint CHECK (btrim(checkpoint) <> '');

ALTER TABLE week_mail
  ADD CONSTRAINT week_mail_is_of_a_monday CHECK (extract(isodow FROM week_of) = 1),
  ADD CONSTRAINT week_mail_counts_needs CHECK (needs >= 0);

ALTER TABLE care_answer
  ADD CONSTRAINT care_answer_names_its_task CHECK (btrim(task) <> ''),
  ADD CONSTRAINT care_is_deferred_to_a_later_day CHECK (
    CASE WHEN answer = 'deferred' THEN deferred_until IS NOT NULL AND deferred_until > answered_on AND btrim(coalesce(reason, '')) <> ''
      ELSE deferred_until IS NULL END);

ALTER TABLE calendar_feed
  ADD CONSTRAINT calendar_feed_keeps_a_hash CHECK (token_hash ~ '^[0-9a-f]{64}$');
CREATE UNIQUE INDEX calendar_feed_is_one_at_a_time ON calendar_feed (group_id, member_id) WHERE revoked_at IS NULL;

ALTER TABLE photo
  ADD CONSTRAINT photo_shows_one_thing CHECK (num_nonnulls(check_id, tree_id) = 1),
  ADD CONSTRAINT photo_keeps_a_hash CHECK (sha256 ~ '^[0-9a-f]{64}$'),
  ADD CONSTRAINT photo_has_a_bounded_size CHECK (
    width BETWEEN 1 AND 2000 AND height BETWEEN 1 AND 2000 AND bytes BETWEEN 1 AND 4000000),
  ADD CONSTRAINT photo_is_removed_by_somebody CHECK ((removed_at IS NULL) = (removed_by_id IS NULL));
CREATE UNIQUE INDEX photo_of_a_check_is_there_once ON photo (group_id, check_id, sha256) WHERE removed_at IS NULL;
CREATE UNIQUE INDEX photo_of_a_tree_is_there_once ON photo (group_id, tree_id, sha256) WHERE removed_at IS NULL;

-- ---- entries that are never edited ---------------------------------------------------------

CREATE TRIGGER reminder_is_append_only BEFORE UPDATE OR DELETE ON reminder FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER reminders_are_not_truncated BEFORE TRUNCATE ON reminder FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER care_answer_is_append_only BEFORE UPDATE OR DELETE ON care_answer FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER care_answers_are_not_truncated BEFORE TRUNCATE ON care_answer FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

-- ---- what the application may do -----------------------------------------------------------

GRANT SELECT, INSERT ON check_link, reminder, week_mail, care_answer, calendar_feed, photo TO tallywood_app;
GRANT SELECT, INSERT, UPDATE ON mail_choice TO tallywood_app;
GRANT UPDATE (revoked_at) ON calendar_feed TO tallywood_app;
GRANT UPDATE (removed_by_id, removed_at) ON photo TO tallywood_app;
GRANT USAGE ON SEQUENCE care_answer_seq_seq TO tallywood_app;
