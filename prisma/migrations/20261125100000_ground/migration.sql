-- CreateSchema
CREATE SCHEMA IF NOT EXISTS "public";

-- CreateEnum
CREATE TYPE "skill_band" AS ENUM ('first_ten', 'ten_to_hundred', 'over_hundred', 'not_said');

-- CreateEnum
CREATE TYPE "sign_in_attempt_kind" AS ENUM ('password', 'link');

-- CreateEnum
CREATE TYPE "member_role" AS ENUM ('organiser', 'steward', 'helper', 'member');

-- CreateEnum
CREATE TYPE "swap_status" AS ENUM ('planned', 'open', 'finished');

-- CreateEnum
CREATE TYPE "claim_status" AS ENUM ('promised', 'handed_over', 'cancelled');

-- CreateEnum
CREATE TYPE "name_certainty" AS ENUM ('settled', 'likely', 'disputed', 'unknown');

-- CreateEnum
CREATE TYPE "protection_status" AS ENUM ('none_known', 'expired', 'in_force', 'pending', 'breeders_right', 'unknown');

-- CreateEnum
CREATE TYPE "synonym_kind" AS ENUM ('synonym', 'selling_name', 'breeder_code');

-- CreateEnum
CREATE TYPE "code_kind" AS ENUM ('lot', 'tree');

-- CreateEnum
CREATE TYPE "limb_origin" AS ENUM ('own', 'grafted', 'unknown');

-- CreateEnum
CREATE TYPE "identity_basis" AS ENUM ('dna', 'expert', 'fruited_true', 'nursery_tag', 'donor_word', 'unknown');

-- CreateEnum
CREATE TYPE "store_kind" AS ENUM ('fridge', 'cellar', 'shed', 'outdoors', 'indoors');

-- CreateEnum
CREATE TYPE "reading_basis" AS ENUM ('logger', 'typed');

-- CreateEnum
CREATE TYPE "tool_care" AS ENUM ('wiped_between_trees', 'wiped_once', 'not_wiped', 'not_noted');

-- CreateEnum
CREATE TYPE "lot_kind" AS ENUM ('scion_wood', 'budwood', 'hardwood_cuttings', 'rooted_plants');

-- CreateEnum
CREATE TYPE "diameter_band" AS ENUM ('thin', 'pencil', 'thick', 'mixed');

-- CreateEnum
CREATE TYPE "packaging" AS ENUM ('bare', 'paper', 'open_bag', 'sealed_bag', 'sealed_damp', 'waxed_sealed');

-- CreateEnum
CREATE TYPE "move_kind" AS ENUM ('cut', 'promise', 'release', 'hand_over', 'walk_up', 'post', 'arrive', 'use', 'destroy', 'lose', 'bring_back', 'reversal');

-- CreateTable
CREATE TABLE "attempt" (
    "group_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "lot_id" UUID,
    "from_limb_id" UUID,
    "variety_id" UUID NOT NULL,
    "grower_id" UUID NOT NULL,
    "recorded_by_id" UUID NOT NULL,
    "method" TEXT NOT NULL,
    "treatment" TEXT,
    "stock" TEXT,
    "host_tree_id" UUID,
    "made_on" DATE NOT NULL,
    "pieces" INTEGER NOT NULL,
    "sticks_used" INTEGER NOT NULL,
    "skill" "skill_band" NOT NULL DEFAULT 'not_said',
    "note" TEXT,
    "created_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "withdrawn_at" TIMESTAMPTZ(6),
    "withdraw_reason" TEXT,

    CONSTRAINT "attempt_pkey" PRIMARY KEY ("group_id","id")
);

-- CreateTable
CREATE TABLE "outcome_check" (
    "group_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "seq" BIGSERIAL NOT NULL,
    "attempt_id" UUID NOT NULL,
    "pieces" INTEGER NOT NULL,
    "checked_on" DATE NOT NULL,
    "alive" INTEGER NOT NULL,
    "dead" INTEGER NOT NULL,
    "unknown" INTEGER NOT NULL,
    "note" TEXT,
    "recorded_by_id" UUID NOT NULL,
    "recorded_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "supersedes_id" UUID,

    CONSTRAINT "outcome_check_pkey" PRIMARY KEY ("group_id","id")
);

-- CreateTable
CREATE TABLE "check_cause" (
    "group_id" UUID NOT NULL,
    "check_id" UUID NOT NULL,
    "cause" TEXT NOT NULL,
    "pieces" INTEGER NOT NULL,

    CONSTRAINT "check_cause_pkey" PRIMARY KEY ("group_id","check_id","cause")
);

-- CreateTable
CREATE TABLE "installation" (
    "id" INTEGER NOT NULL DEFAULT 1,
    "is_demo" BOOLEAN NOT NULL,
    "installed_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "installation_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "login" (
    "id" UUID NOT NULL,
    "email" TEXT NOT NULL,
    "display_name" TEXT NOT NULL,
    "password_hash" TEXT,
    "session_version" INTEGER NOT NULL DEFAULT 1,
    "fahrenheit" BOOLEAN NOT NULL DEFAULT false,
    "inches" BOOLEAN NOT NULL DEFAULT false,
    "created_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "login_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "sign_in_token" (
    "token_hash" TEXT NOT NULL,
    "email" TEXT NOT NULL,
    "expires_at" TIMESTAMPTZ(6) NOT NULL,
    "used_at" TIMESTAMPTZ(6),
    "created_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "sign_in_token_pkey" PRIMARY KEY ("token_hash")
);

-- CreateTable
CREATE TABLE "sign_in_attempt" (
    "id" UUID NOT NULL,
    "email" TEXT NOT NULL,
    "kind" "sign_in_attempt_kind" NOT NULL,
    "at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "sign_in_attempt_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "outbox_mail" (
    "id" UUID NOT NULL,
    "to_address" TEXT NOT NULL,
    "subject" TEXT NOT NULL,
    "body" TEXT NOT NULL,
    "created_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "send_after" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "sent_at" TIMESTAMPTZ(6),
    "tries" INTEGER NOT NULL DEFAULT 0,
    "last_error" TEXT,

    CONSTRAINT "outbox_mail_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "orchard_group" (
    "id" UUID NOT NULL,
    "slug" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "time_zone" TEXT NOT NULL,
    "region" TEXT,
    "allows_vitis" BOOLEAN NOT NULL DEFAULT false,
    "created_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "orchard_group_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "member" (
    "group_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "login_id" UUID,
    "display_name" TEXT NOT NULL,
    "role" "member_role" NOT NULL DEFAULT 'member',
    "phone" TEXT,
    "email" TEXT,
    "note" TEXT,
    "joined_on" DATE NOT NULL,
    "left_on" DATE,
    "created_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "member_pkey" PRIMARY KEY ("group_id","id")
);

-- CreateTable
CREATE TABLE "invitation" (
    "group_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "email" TEXT NOT NULL,
    "role" "member_role" NOT NULL,
    "member_id" UUID,
    "token_hash" TEXT NOT NULL,
    "invited_by_id" UUID NOT NULL,
    "created_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "expires_at" TIMESTAMPTZ(6) NOT NULL,
    "accepted_at" TIMESTAMPTZ(6),
    "revoked_at" TIMESTAMPTZ(6),

    CONSTRAINT "invitation_pkey" PRIMARY KEY ("group_id","id")
);

-- CreateTable
CREATE TABLE "audit_entry" (
    "group_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "actor_id" UUID NOT NULL,
    "on_behalf_of" UUID,
    "action" TEXT NOT NULL,
    "subject" TEXT NOT NULL,
    "detail" JSONB NOT NULL DEFAULT '{}',

    CONSTRAINT "audit_entry_pkey" PRIMARY KEY ("group_id","id")
);

-- CreateTable
CREATE TABLE "idempotency_key" (
    "group_id" UUID NOT NULL,
    "key" UUID NOT NULL,
    "command" TEXT NOT NULL,
    "input_hash" TEXT NOT NULL,
    "answer" JSONB NOT NULL,
    "created_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "idempotency_key_pkey" PRIMARY KEY ("group_id","key")
);

-- CreateTable
CREATE TABLE "swap" (
    "group_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "held_on" DATE NOT NULL,
    "place" TEXT NOT NULL,
    "status" "swap_status" NOT NULL DEFAULT 'planned',
    "claims_open_at" TIMESTAMPTZ(6) NOT NULL,
    "claims_close_at" TIMESTAMPTZ(6) NOT NULL,
    "cap_per_member" INTEGER NOT NULL,
    "cap_per_variety" INTEGER NOT NULL,
    "note" TEXT,
    "created_by_id" UUID NOT NULL,
    "created_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "swap_pkey" PRIMARY KEY ("group_id","id")
);

-- CreateTable
CREATE TABLE "offering" (
    "group_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "swap_id" UUID NOT NULL,
    "lot_id" UUID NOT NULL,
    "sticks_per_share" INTEGER NOT NULL,
    "shares" INTEGER NOT NULL,
    "shares_claimed" INTEGER NOT NULL DEFAULT 0,
    "note" TEXT,
    "override_reason" TEXT,
    "offered_by_id" UUID NOT NULL,
    "offered_at" TIMESTAMPTZ(6) NOT NULL,
    "withdrawn_at" TIMESTAMPTZ(6),

    CONSTRAINT "offering_pkey" PRIMARY KEY ("group_id","id")
);

-- CreateTable
CREATE TABLE "claim" (
    "group_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "swap_id" UUID NOT NULL,
    "offering_id" UUID NOT NULL,
    "lot_id" UUID NOT NULL,
    "member_id" UUID NOT NULL,
    "variety_id" UUID NOT NULL,
    "shares" INTEGER NOT NULL,
    "sticks" INTEGER NOT NULL,
    "status" "claim_status" NOT NULL DEFAULT 'promised',
    "purpose" TEXT,
    "recorded_by_id" UUID NOT NULL,
    "made_at" TIMESTAMPTZ(6) NOT NULL,
    "settled_at" TIMESTAMPTZ(6),

    CONSTRAINT "claim_pkey" PRIMARY KEY ("group_id","id")
);

-- CreateTable
CREATE TABLE "taking" (
    "group_id" UUID NOT NULL,
    "swap_id" UUID NOT NULL,
    "member_id" UUID NOT NULL,
    "scope" TEXT NOT NULL,
    "shares" INTEGER NOT NULL DEFAULT 0,

    CONSTRAINT "taking_pkey" PRIMARY KEY ("group_id","swap_id","member_id","scope")
);

-- CreateTable
CREATE TABLE "taxon" (
    "key" TEXT NOT NULL,
    "genus" TEXT NOT NULL,
    "species" TEXT NOT NULL,
    "common_name" TEXT NOT NULL,
    "family" TEXT NOT NULL,
    "storage_profile" TEXT NOT NULL,

    CONSTRAINT "taxon_pkey" PRIMARY KEY ("key")
);

-- CreateTable
CREATE TABLE "variety" (
    "group_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "taxon_key" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "name_key" TEXT NOT NULL,
    "name_certainty" "name_certainty" NOT NULL DEFAULT 'likely',
    "note" TEXT,
    "protection" "protection_status" NOT NULL DEFAULT 'none_known',
    "protection_note" TEXT,
    "protection_checked_on" DATE,
    "introduced_year" INTEGER,
    "created_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "variety_pkey" PRIMARY KEY ("group_id","id")
);

-- CreateTable
CREATE TABLE "variety_synonym" (
    "group_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "variety_id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "name_key" TEXT NOT NULL,
    "kind" "synonym_kind" NOT NULL DEFAULT 'synonym',

    CONSTRAINT "variety_synonym_pkey" PRIMARY KEY ("group_id","id")
);

-- CreateTable
CREATE TABLE "issued_code" (
    "group_id" UUID NOT NULL,
    "code" CHAR(6) NOT NULL,
    "kind" "code_kind" NOT NULL,
    "issued_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "issued_code_pkey" PRIMARY KEY ("group_id","code")
);

-- CreateTable
CREATE TABLE "tree" (
    "group_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "code" CHAR(6) NOT NULL,
    "code_kind" "code_kind" NOT NULL DEFAULT 'tree',
    "keeper_id" UUID NOT NULL,
    "rootstock" TEXT,
    "place" TEXT,
    "planted_on" DATE,
    "note" TEXT,
    "gone_on" DATE,
    "created_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "tree_pkey" PRIMARY KEY ("group_id","id")
);

-- CreateTable
CREATE TABLE "limb" (
    "group_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "tree_id" UUID NOT NULL,
    "mark" TEXT NOT NULL,
    "variety_id" UUID,
    "height_cm" INTEGER,
    "side" TEXT,
    "origin" "limb_origin" NOT NULL DEFAULT 'own',
    "from_attempt_id" UUID,
    "identity" "identity_basis" NOT NULL DEFAULT 'unknown',
    "seen_in_leaf_on" DATE,
    "health_note" TEXT,
    "gone_on" DATE,
    "created_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "limb_pkey" PRIMARY KEY ("group_id","id")
);

-- CreateTable
CREATE TABLE "store" (
    "group_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "kind" "store_kind" NOT NULL,
    "keeper_id" UUID,
    "typed_celsius" DECIMAL(4,1),
    "closed_on" DATE,
    "created_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "store_pkey" PRIMARY KEY ("group_id","id")
);

-- CreateTable
CREATE TABLE "reading" (
    "group_id" UUID NOT NULL,
    "store_id" UUID NOT NULL,
    "at" TIMESTAMPTZ(6) NOT NULL,
    "celsius" DECIMAL(5,2) NOT NULL,
    "basis" "reading_basis" NOT NULL,
    "taken_by_id" UUID,

    CONSTRAINT "reading_pkey" PRIMARY KEY ("group_id","store_id","at")
);

-- CreateTable
CREATE TABLE "cutting_session" (
    "group_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "cutter_id" UUID NOT NULL,
    "recorded_by_id" UUID NOT NULL,
    "cut_on" DATE NOT NULL,
    "tool" TEXT,
    "tool_care" "tool_care" NOT NULL,
    "weather" TEXT,
    "note" TEXT,
    "created_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "cutting_session_pkey" PRIMARY KEY ("group_id","id")
);

-- CreateTable
CREATE TABLE "lot" (
    "group_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "code" CHAR(6) NOT NULL,
    "code_kind" "code_kind" NOT NULL DEFAULT 'lot',
    "limb_id" UUID NOT NULL,
    "session_id" UUID NOT NULL,
    "cut_on" DATE NOT NULL,
    "kind" "lot_kind" NOT NULL,
    "diameter" "diameter_band" NOT NULL,
    "bud_stage" INTEGER NOT NULL,
    "packaging" "packaging" NOT NULL,
    "note" TEXT,
    "created_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "lot_pkey" PRIMARY KEY ("group_id","id")
);

-- CreateTable
CREATE TABLE "stint" (
    "group_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "lot_id" UUID NOT NULL,
    "store_id" UUID NOT NULL,
    "began_at" TIMESTAMPTZ(6) NOT NULL,
    "ended_at" TIMESTAMPTZ(6),

    CONSTRAINT "stint_pkey" PRIMARY KEY ("group_id","id")
);

-- CreateTable
CREATE TABLE "holding" (
    "group_id" UUID NOT NULL,
    "lot_id" UUID NOT NULL,
    "account" TEXT NOT NULL,
    "member_id" UUID,
    "sticks" INTEGER NOT NULL DEFAULT 0,

    CONSTRAINT "holding_pkey" PRIMARY KEY ("group_id","lot_id","account")
);

-- CreateTable
CREATE TABLE "move" (
    "group_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "seq" BIGSERIAL NOT NULL,
    "lot_id" UUID NOT NULL,
    "kind" "move_kind" NOT NULL,
    "from_account" TEXT NOT NULL,
    "to_account" TEXT NOT NULL,
    "sticks" INTEGER NOT NULL,
    "from_after" INTEGER NOT NULL,
    "to_after" INTEGER NOT NULL,
    "happened_at" TIMESTAMPTZ(6) NOT NULL,
    "recorded_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "recorded_by_id" UUID NOT NULL,
    "on_behalf_of_id" UUID,
    "reason" TEXT,
    "reverses_id" UUID,
    "claim_id" UUID,
    "attempt_id" UUID,

    CONSTRAINT "move_pkey" PRIMARY KEY ("group_id","id")
);

-- CreateTable
CREATE TABLE "health_hold" (
    "group_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "lot_id" UUID,
    "limb_id" UUID,
    "reason" TEXT NOT NULL,
    "placed_by_id" UUID NOT NULL,
    "placed_at" TIMESTAMPTZ(6) NOT NULL,
    "released_by_id" UUID,
    "released_at" TIMESTAMPTZ(6),
    "release_reason" TEXT,

    CONSTRAINT "health_hold_pkey" PRIMARY KEY ("group_id","id")
);

-- CreateIndex
CREATE INDEX "attempt_group_id_grower_id_idx" ON "attempt"("group_id", "grower_id");

-- CreateIndex
CREATE INDEX "attempt_group_id_variety_id_idx" ON "attempt"("group_id", "variety_id");

-- CreateIndex
CREATE INDEX "attempt_group_id_lot_id_idx" ON "attempt"("group_id", "lot_id");

-- CreateIndex
CREATE INDEX "attempt_group_id_made_on_idx" ON "attempt"("group_id", "made_on");

-- CreateIndex
CREATE UNIQUE INDEX "attempt_group_id_id_pieces_key" ON "attempt"("group_id", "id", "pieces");

-- CreateIndex
CREATE UNIQUE INDEX "attempt_group_id_id_lot_id_key" ON "attempt"("group_id", "id", "lot_id");

-- CreateIndex
CREATE INDEX "outcome_check_group_id_attempt_id_checked_on_idx" ON "outcome_check"("group_id", "attempt_id", "checked_on");

-- CreateIndex
CREATE UNIQUE INDEX "outcome_check_group_id_id_attempt_id_key" ON "outcome_check"("group_id", "id", "attempt_id");

-- CreateIndex
CREATE UNIQUE INDEX "outcome_check_group_id_supersedes_id_attempt_id_key" ON "outcome_check"("group_id", "supersedes_id", "attempt_id");

-- CreateIndex
CREATE UNIQUE INDEX "outcome_check_group_id_supersedes_id_key" ON "outcome_check"("group_id", "supersedes_id");

-- CreateIndex
CREATE UNIQUE INDEX "login_email_key" ON "login"("email");

-- CreateIndex
CREATE INDEX "sign_in_token_email_created_at_idx" ON "sign_in_token"("email", "created_at");

-- CreateIndex
CREATE INDEX "sign_in_attempt_email_kind_at_idx" ON "sign_in_attempt"("email", "kind", "at");

-- CreateIndex
CREATE INDEX "outbox_mail_sent_at_send_after_idx" ON "outbox_mail"("sent_at", "send_after");

-- CreateIndex
CREATE UNIQUE INDEX "orchard_group_slug_key" ON "orchard_group"("slug");

-- CreateIndex
CREATE INDEX "member_login_id_idx" ON "member"("login_id");

-- CreateIndex
CREATE UNIQUE INDEX "member_group_id_login_id_key" ON "member"("group_id", "login_id");

-- CreateIndex
CREATE UNIQUE INDEX "invitation_token_hash_key" ON "invitation"("token_hash");

-- CreateIndex
CREATE INDEX "audit_entry_group_id_at_idx" ON "audit_entry"("group_id", "at");

-- CreateIndex
CREATE INDEX "audit_entry_group_id_subject_idx" ON "audit_entry"("group_id", "subject");

-- CreateIndex
CREATE INDEX "swap_group_id_held_on_idx" ON "swap"("group_id", "held_on");

-- CreateIndex
CREATE INDEX "offering_group_id_lot_id_idx" ON "offering"("group_id", "lot_id");

-- CreateIndex
CREATE UNIQUE INDEX "offering_group_id_id_swap_id_lot_id_key" ON "offering"("group_id", "id", "swap_id", "lot_id");

-- CreateIndex
CREATE UNIQUE INDEX "offering_group_id_swap_id_lot_id_key" ON "offering"("group_id", "swap_id", "lot_id");

-- CreateIndex
CREATE INDEX "claim_group_id_swap_id_member_id_idx" ON "claim"("group_id", "swap_id", "member_id");

-- CreateIndex
CREATE INDEX "claim_group_id_offering_id_idx" ON "claim"("group_id", "offering_id");

-- CreateIndex
CREATE UNIQUE INDEX "variety_group_id_taxon_key_name_key_key" ON "variety"("group_id", "taxon_key", "name_key");

-- CreateIndex
CREATE INDEX "variety_synonym_group_id_name_key_idx" ON "variety_synonym"("group_id", "name_key");

-- CreateIndex
CREATE UNIQUE INDEX "variety_synonym_group_id_variety_id_name_key_key" ON "variety_synonym"("group_id", "variety_id", "name_key");

-- CreateIndex
CREATE UNIQUE INDEX "issued_code_group_id_code_kind_key" ON "issued_code"("group_id", "code", "kind");

-- CreateIndex
CREATE INDEX "tree_group_id_keeper_id_idx" ON "tree"("group_id", "keeper_id");

-- CreateIndex
CREATE UNIQUE INDEX "tree_group_id_code_code_kind_key" ON "tree"("group_id", "code", "code_kind");

-- CreateIndex
CREATE INDEX "limb_group_id_variety_id_idx" ON "limb"("group_id", "variety_id");

-- CreateIndex
CREATE UNIQUE INDEX "limb_group_id_tree_id_mark_key" ON "limb"("group_id", "tree_id", "mark");

-- CreateIndex
CREATE UNIQUE INDEX "store_group_id_name_key" ON "store"("group_id", "name");

-- CreateIndex
CREATE INDEX "cutting_session_group_id_cut_on_idx" ON "cutting_session"("group_id", "cut_on");

-- CreateIndex
CREATE UNIQUE INDEX "cutting_session_group_id_id_cut_on_key" ON "cutting_session"("group_id", "id", "cut_on");

-- CreateIndex
CREATE INDEX "lot_group_id_limb_id_idx" ON "lot"("group_id", "limb_id");

-- CreateIndex
CREATE INDEX "lot_group_id_session_id_idx" ON "lot"("group_id", "session_id");

-- CreateIndex
CREATE INDEX "lot_group_id_cut_on_idx" ON "lot"("group_id", "cut_on");

-- CreateIndex
CREATE UNIQUE INDEX "lot_group_id_code_code_kind_key" ON "lot"("group_id", "code", "code_kind");

-- CreateIndex
CREATE INDEX "stint_group_id_lot_id_began_at_idx" ON "stint"("group_id", "lot_id", "began_at");

-- CreateIndex
CREATE INDEX "stint_group_id_store_id_idx" ON "stint"("group_id", "store_id");

-- CreateIndex
CREATE INDEX "holding_group_id_member_id_idx" ON "holding"("group_id", "member_id");

-- CreateIndex
CREATE INDEX "move_group_id_lot_id_seq_idx" ON "move"("group_id", "lot_id", "seq");

-- CreateIndex
CREATE INDEX "move_group_id_claim_id_idx" ON "move"("group_id", "claim_id");

-- CreateIndex
CREATE INDEX "move_group_id_attempt_id_idx" ON "move"("group_id", "attempt_id");

-- CreateIndex
CREATE UNIQUE INDEX "move_group_id_id_lot_id_to_account_from_account_sticks_key" ON "move"("group_id", "id", "lot_id", "to_account", "from_account", "sticks");

-- CreateIndex
CREATE UNIQUE INDEX "move_group_id_reverses_id_lot_id_from_account_to_account_st_key" ON "move"("group_id", "reverses_id", "lot_id", "from_account", "to_account", "sticks");

-- CreateIndex
CREATE UNIQUE INDEX "move_group_id_reverses_id_key" ON "move"("group_id", "reverses_id");

-- CreateIndex
CREATE INDEX "health_hold_group_id_lot_id_idx" ON "health_hold"("group_id", "lot_id");

-- CreateIndex
CREATE INDEX "health_hold_group_id_limb_id_idx" ON "health_hold"("group_id", "limb_id");

-- AddForeignKey
ALTER TABLE "attempt" ADD CONSTRAINT "attempt_group_id_lot_id_fkey" FOREIGN KEY ("group_id", "lot_id") REFERENCES "lot"("group_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "attempt" ADD CONSTRAINT "attempt_group_id_from_limb_id_fkey" FOREIGN KEY ("group_id", "from_limb_id") REFERENCES "limb"("group_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "attempt" ADD CONSTRAINT "attempt_group_id_variety_id_fkey" FOREIGN KEY ("group_id", "variety_id") REFERENCES "variety"("group_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "attempt" ADD CONSTRAINT "attempt_group_id_grower_id_fkey" FOREIGN KEY ("group_id", "grower_id") REFERENCES "member"("group_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "attempt" ADD CONSTRAINT "attempt_group_id_recorded_by_id_fkey" FOREIGN KEY ("group_id", "recorded_by_id") REFERENCES "member"("group_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "attempt" ADD CONSTRAINT "attempt_group_id_host_tree_id_fkey" FOREIGN KEY ("group_id", "host_tree_id") REFERENCES "tree"("group_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "outcome_check" ADD CONSTRAINT "outcome_check_group_id_attempt_id_pieces_fkey" FOREIGN KEY ("group_id", "attempt_id", "pieces") REFERENCES "attempt"("group_id", "id", "pieces") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "outcome_check" ADD CONSTRAINT "outcome_check_group_id_recorded_by_id_fkey" FOREIGN KEY ("group_id", "recorded_by_id") REFERENCES "member"("group_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "outcome_check" ADD CONSTRAINT "outcome_check_group_id_supersedes_id_attempt_id_fkey" FOREIGN KEY ("group_id", "supersedes_id", "attempt_id") REFERENCES "outcome_check"("group_id", "id", "attempt_id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "check_cause" ADD CONSTRAINT "check_cause_group_id_check_id_fkey" FOREIGN KEY ("group_id", "check_id") REFERENCES "outcome_check"("group_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "member" ADD CONSTRAINT "member_group_id_fkey" FOREIGN KEY ("group_id") REFERENCES "orchard_group"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "member" ADD CONSTRAINT "member_login_id_fkey" FOREIGN KEY ("login_id") REFERENCES "login"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "invitation" ADD CONSTRAINT "invitation_group_id_invited_by_id_fkey" FOREIGN KEY ("group_id", "invited_by_id") REFERENCES "member"("group_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "invitation" ADD CONSTRAINT "invitation_group_id_member_id_fkey" FOREIGN KEY ("group_id", "member_id") REFERENCES "member"("group_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "audit_entry" ADD CONSTRAINT "audit_entry_group_id_actor_id_fkey" FOREIGN KEY ("group_id", "actor_id") REFERENCES "member"("group_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "swap" ADD CONSTRAINT "swap_group_id_created_by_id_fkey" FOREIGN KEY ("group_id", "created_by_id") REFERENCES "member"("group_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "offering" ADD CONSTRAINT "offering_group_id_swap_id_fkey" FOREIGN KEY ("group_id", "swap_id") REFERENCES "swap"("group_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "offering" ADD CONSTRAINT "offering_group_id_lot_id_fkey" FOREIGN KEY ("group_id", "lot_id") REFERENCES "lot"("group_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "offering" ADD CONSTRAINT "offering_group_id_offered_by_id_fkey" FOREIGN KEY ("group_id", "offered_by_id") REFERENCES "member"("group_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "claim" ADD CONSTRAINT "claim_group_id_swap_id_fkey" FOREIGN KEY ("group_id", "swap_id") REFERENCES "swap"("group_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "claim" ADD CONSTRAINT "claim_group_id_offering_id_swap_id_lot_id_fkey" FOREIGN KEY ("group_id", "offering_id", "swap_id", "lot_id") REFERENCES "offering"("group_id", "id", "swap_id", "lot_id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "claim" ADD CONSTRAINT "claim_group_id_member_id_fkey" FOREIGN KEY ("group_id", "member_id") REFERENCES "member"("group_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "claim" ADD CONSTRAINT "claim_group_id_variety_id_fkey" FOREIGN KEY ("group_id", "variety_id") REFERENCES "variety"("group_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "claim" ADD CONSTRAINT "claim_group_id_recorded_by_id_fkey" FOREIGN KEY ("group_id", "recorded_by_id") REFERENCES "member"("group_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "taking" ADD CONSTRAINT "taking_group_id_swap_id_fkey" FOREIGN KEY ("group_id", "swap_id") REFERENCES "swap"("group_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "taking" ADD CONSTRAINT "taking_group_id_member_id_fkey" FOREIGN KEY ("group_id", "member_id") REFERENCES "member"("group_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "variety" ADD CONSTRAINT "variety_taxon_key_fkey" FOREIGN KEY ("taxon_key") REFERENCES "taxon"("key") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "variety_synonym" ADD CONSTRAINT "variety_synonym_group_id_variety_id_fkey" FOREIGN KEY ("group_id", "variety_id") REFERENCES "variety"("group_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "tree" ADD CONSTRAINT "tree_group_id_code_code_kind_fkey" FOREIGN KEY ("group_id", "code", "code_kind") REFERENCES "issued_code"("group_id", "code", "kind") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "tree" ADD CONSTRAINT "tree_group_id_keeper_id_fkey" FOREIGN KEY ("group_id", "keeper_id") REFERENCES "member"("group_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "limb" ADD CONSTRAINT "limb_group_id_tree_id_fkey" FOREIGN KEY ("group_id", "tree_id") REFERENCES "tree"("group_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "limb" ADD CONSTRAINT "limb_group_id_variety_id_fkey" FOREIGN KEY ("group_id", "variety_id") REFERENCES "variety"("group_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "limb" ADD CONSTRAINT "limb_group_id_from_attempt_id_fkey" FOREIGN KEY ("group_id", "from_attempt_id") REFERENCES "attempt"("group_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "store" ADD CONSTRAINT "store_group_id_keeper_id_fkey" FOREIGN KEY ("group_id", "keeper_id") REFERENCES "member"("group_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "reading" ADD CONSTRAINT "reading_group_id_store_id_fkey" FOREIGN KEY ("group_id", "store_id") REFERENCES "store"("group_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "reading" ADD CONSTRAINT "reading_group_id_taken_by_id_fkey" FOREIGN KEY ("group_id", "taken_by_id") REFERENCES "member"("group_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "cutting_session" ADD CONSTRAINT "cutting_session_group_id_cutter_id_fkey" FOREIGN KEY ("group_id", "cutter_id") REFERENCES "member"("group_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "cutting_session" ADD CONSTRAINT "cutting_session_group_id_recorded_by_id_fkey" FOREIGN KEY ("group_id", "recorded_by_id") REFERENCES "member"("group_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "lot" ADD CONSTRAINT "lot_group_id_code_code_kind_fkey" FOREIGN KEY ("group_id", "code", "code_kind") REFERENCES "issued_code"("group_id", "code", "kind") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "lot" ADD CONSTRAINT "lot_group_id_limb_id_fkey" FOREIGN KEY ("group_id", "limb_id") REFERENCES "limb"("group_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "lot" ADD CONSTRAINT "lot_group_id_session_id_cut_on_fkey" FOREIGN KEY ("group_id", "session_id", "cut_on") REFERENCES "cutting_session"("group_id", "id", "cut_on") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "stint" ADD CONSTRAINT "stint_group_id_lot_id_fkey" FOREIGN KEY ("group_id", "lot_id") REFERENCES "lot"("group_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "stint" ADD CONSTRAINT "stint_group_id_store_id_fkey" FOREIGN KEY ("group_id", "store_id") REFERENCES "store"("group_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "holding" ADD CONSTRAINT "holding_group_id_lot_id_fkey" FOREIGN KEY ("group_id", "lot_id") REFERENCES "lot"("group_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "holding" ADD CONSTRAINT "holding_group_id_member_id_fkey" FOREIGN KEY ("group_id", "member_id") REFERENCES "member"("group_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "move" ADD CONSTRAINT "move_group_id_lot_id_fkey" FOREIGN KEY ("group_id", "lot_id") REFERENCES "lot"("group_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "move" ADD CONSTRAINT "move_group_id_lot_id_from_account_fkey" FOREIGN KEY ("group_id", "lot_id", "from_account") REFERENCES "holding"("group_id", "lot_id", "account") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "move" ADD CONSTRAINT "move_group_id_lot_id_to_account_fkey" FOREIGN KEY ("group_id", "lot_id", "to_account") REFERENCES "holding"("group_id", "lot_id", "account") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "move" ADD CONSTRAINT "move_group_id_recorded_by_id_fkey" FOREIGN KEY ("group_id", "recorded_by_id") REFERENCES "member"("group_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "move" ADD CONSTRAINT "move_group_id_on_behalf_of_id_fkey" FOREIGN KEY ("group_id", "on_behalf_of_id") REFERENCES "member"("group_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "move" ADD CONSTRAINT "move_group_id_reverses_id_lot_id_from_account_to_account_s_fkey" FOREIGN KEY ("group_id", "reverses_id", "lot_id", "from_account", "to_account", "sticks") REFERENCES "move"("group_id", "id", "lot_id", "to_account", "from_account", "sticks") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "move" ADD CONSTRAINT "move_group_id_claim_id_fkey" FOREIGN KEY ("group_id", "claim_id") REFERENCES "claim"("group_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "move" ADD CONSTRAINT "move_group_id_attempt_id_lot_id_fkey" FOREIGN KEY ("group_id", "attempt_id", "lot_id") REFERENCES "attempt"("group_id", "id", "lot_id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "health_hold" ADD CONSTRAINT "health_hold_group_id_lot_id_fkey" FOREIGN KEY ("group_id", "lot_id") REFERENCES "lot"("group_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "health_hold" ADD CONSTRAINT "health_hold_group_id_limb_id_fkey" FOREIGN KEY ("group_id", "limb_id") REFERENCES "limb"("group_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "health_hold" ADD CONSTRAINT "health_hold_group_id_placed_by_id_fkey" FOREIGN KEY ("group_id", "placed_by_id") REFERENCES "member"("group_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "health_hold" ADD CONSTRAINT "health_hold_group_id_released_by_id_fkey" FOREIGN KEY ("group_id", "released_by_id") REFERENCES "member"("group_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;
