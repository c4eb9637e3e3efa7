-- The day of a swap: who came.

-- CreateTable
CREATE TABLE "swap_presence" (
    "group_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "swap_id" UUID NOT NULL,
    "member_id" UUID NOT NULL,
    "came_at" TIMESTAMPTZ(6) NOT NULL,
    "recorded_by_id" UUID NOT NULL,
    "undone_at" TIMESTAMPTZ(6),
    "undone_by_id" UUID,

    CONSTRAINT "swap_presence_pkey" PRIMARY KEY ("group_id","id"),
    CONSTRAINT presence_is_undone_by_somebody CHECK ((undone_at IS NULL) = (undone_by_id IS NULL)),
    CONSTRAINT presence_is_undone_later CHECK (undone_at >= came_at)
);

CREATE INDEX "swap_presence_group_id_swap_id_member_id_idx" ON "swap_presence"("group_id", "swap_id", "member_id");
-- Somebody is there once at a time, however many helpers tick the name.
CREATE UNIQUE INDEX presence_stands_once ON swap_presence (group_id, swap_id, member_id) WHERE undone_at IS NULL;

-- AddForeignKey
ALTER TABLE "swap_presence" ADD CONSTRAINT "swap_presence_group_id_swap_id_fkey" FOREIGN KEY ("group_id", "swap_id") REFERENCES "swap"("group_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "swap_presence" ADD CONSTRAINT "swap_presence_group_id_member_id_fkey" FOREIGN KEY ("group_id", "member_id") REFERENCES "member"("group_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "swap_presence" ADD CONSTRAINT "swap_presence_group_id_recorded_by_id_fkey" FOREIGN KEY ("group_id", "recorded_by_id") REFERENCES "member"("group_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "swap_presence" ADD CONSTRAINT "swap_presence_group_id_undone_by_id_fkey" FOREIGN KEY ("group_id", "undone_by_id") REFERENCES "member"("group_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- An entry is made and taken back, never changed or removed.
GRANT SELECT, INSERT ON swap_presence TO tallywood_app;
GRANT UPDATE (undone_at, undone_by_id) ON swap_presence TO tallywood_app;
