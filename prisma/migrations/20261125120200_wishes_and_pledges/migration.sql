-- What members wish for, and what keepers of trees promise to bring.

CREATE TYPE "wish_purpose" AS ENUM ('graft', 'root', 'rootstock', 'undecided');
CREATE TYPE "pledge_status" AS ENUM ('asked', 'promised', 'declined', 'delivered', 'short', 'not_come', 'withdrawn');

CREATE TABLE "wish" (
    "group_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "swap_id" UUID NOT NULL,
    "member_id" UUID NOT NULL,
    "rank" INTEGER NOT NULL,
    "variety_id" UUID,
    "words" TEXT,
    "taxon_key" TEXT,
    "purpose" "wish_purpose" NOT NULL DEFAULT 'undecided',
    "sticks" INTEGER NOT NULL,
    "stock" TEXT,
    "recorded_by_id" UUID NOT NULL,
    "made_at" TIMESTAMPTZ(6) NOT NULL,

    CONSTRAINT "wish_pkey" PRIMARY KEY ("group_id","id"),
    CONSTRAINT wish_names_something CHECK ((variety_id IS NOT NULL) <> (btrim(coalesce(words, '')) <> '')),
    CONSTRAINT wish_of_a_variety_has_no_other_crop CHECK (variety_id IS NULL OR taxon_key IS NULL),
    CONSTRAINT wish_rank_counts_from_one CHECK (rank >= 1),
    CONSTRAINT wish_is_for_some_sticks CHECK (sticks BETWEEN 1 AND 100)
);

CREATE TABLE "pledge" (
    "group_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "swap_id" UUID NOT NULL,
    "limb_id" UUID NOT NULL,
    "keeper_id" UUID NOT NULL,
    "status" "pledge_status" NOT NULL,
    "asked_by_id" UUID,
    "asked_at" TIMESTAMPTZ(6),
    "sticks_asked" INTEGER,
    "reminded_at" TIMESTAMPTZ(6),
    "sticks_promised" INTEGER,
    "bring_by" DATE,
    "answered_at" TIMESTAMPTZ(6),
    "settled_at" TIMESTAMPTZ(6),
    "note" TEXT,

    CONSTRAINT "pledge_pkey" PRIMARY KEY ("group_id","id"),
    CONSTRAINT pledge_was_asked_by_somebody CHECK (
      (asked_by_id IS NULL) = (asked_at IS NULL) AND (asked_by_id IS NULL) = (sticks_asked IS NULL)),
    CONSTRAINT pledge_was_asked_or_promised CHECK (asked_by_id IS NOT NULL OR answered_at IS NOT NULL),
    CONSTRAINT pledge_waits_for_an_answer CHECK ((status = 'asked') = (answered_at IS NULL)),
    CONSTRAINT pledge_says_how_many CHECK (
      (status IN ('promised', 'delivered', 'short', 'not_come')) = (sticks_promised IS NOT NULL)
      OR (status = 'withdrawn' AND sticks_promised IS NOT NULL)),
    CONSTRAINT pledge_is_settled_at_a_time CHECK (
      (status IN ('delivered', 'short', 'not_come', 'withdrawn')) = (settled_at IS NOT NULL)),
    CONSTRAINT pledge_is_for_some_sticks CHECK (
      coalesce(sticks_asked, 1) BETWEEN 1 AND 1000 AND coalesce(sticks_promised, 1) BETWEEN 1 AND 1000)
);

CREATE UNIQUE INDEX "wish_group_id_swap_id_member_id_variety_id_key" ON "wish"("group_id", "swap_id", "member_id", "variety_id");
CREATE INDEX "wish_group_id_swap_id_variety_id_idx" ON "wish"("group_id", "swap_id", "variety_id");
-- Deferrable, so that two wishes change places in one statement.
ALTER TABLE wish ADD CONSTRAINT wish_rank_stands_once UNIQUE (group_id, swap_id, member_id, rank) DEFERRABLE INITIALLY IMMEDIATE;
CREATE INDEX "pledge_group_id_swap_id_status_idx" ON "pledge"("group_id", "swap_id", "status");
CREATE INDEX "pledge_group_id_keeper_id_idx" ON "pledge"("group_id", "keeper_id");
-- A limb is asked for once at a time.
CREATE UNIQUE INDEX pledge_open_once_for_a_limb ON pledge (group_id, swap_id, limb_id) WHERE status IN ('asked', 'promised');

ALTER TABLE "wish"
  ADD CONSTRAINT "wish_group_id_swap_id_fkey" FOREIGN KEY ("group_id", "swap_id") REFERENCES "swap"("group_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE,
  ADD CONSTRAINT "wish_group_id_member_id_fkey" FOREIGN KEY ("group_id", "member_id") REFERENCES "member"("group_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE,
  ADD CONSTRAINT "wish_group_id_recorded_by_id_fkey" FOREIGN KEY ("group_id", "recorded_by_id") REFERENCES "member"("group_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE,
  ADD CONSTRAINT "wish_group_id_variety_id_fkey" FOREIGN KEY ("group_id", "variety_id") REFERENCES "variety"("group_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE,
  ADD CONSTRAINT "wish_taxon_key_fkey" FOREIGN KEY ("taxon_key") REFERENCES "taxon"("key") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "pledge"
  ADD CONSTRAINT "pledge_group_id_swap_id_fkey" FOREIGN KEY ("group_id", "swap_id") REFERENCES "swap"("group_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE,
  ADD CONSTRAINT "pledge_group_id_limb_id_fkey" FOREIGN KEY ("group_id", "limb_id") REFERENCES "limb"("group_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE,
  ADD CONSTRAINT "pledge_group_id_keeper_id_fkey" FOREIGN KEY ("group_id", "keeper_id") REFERENCES "member"("group_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE,
  ADD CONSTRAINT "pledge_group_id_asked_by_id_fkey" FOREIGN KEY ("group_id", "asked_by_id") REFERENCES "member"("group_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

GRANT SELECT, INSERT, UPDATE, DELETE ON wish TO tallywood_app;
GRANT SELECT, INSERT, UPDATE ON pledge TO tallywood_app;
