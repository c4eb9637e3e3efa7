-- How long each lot keeps, worked out by the application from its records and stored with whatever changed them, so that
-- lists can sort and narrow by it. Nothing here is a record: every row can be worked out again.
CREATE TABLE "window_projection" (
    "group_id" UUID NOT NULL,
    "lot_id" UUID NOT NULL,
    "early_at" TIMESTAMPTZ(6),
    "likely_at" TIMESTAMPTZ(6),
    "late_at" TIMESTAMPTZ(6),
    "limited_by" TEXT,
    "no_window" TEXT,
    "profile" TEXT,
    "storage_profile" TEXT,
    "flags" TEXT[] NOT NULL DEFAULT ARRAY[]::TEXT[],
    "model" TEXT NOT NULL,
    "computed_at" TIMESTAMPTZ(6) NOT NULL,

    CONSTRAINT "window_projection_pkey" PRIMARY KEY ("group_id","lot_id")
);

CREATE INDEX "window_projection_group_id_likely_at_idx" ON "window_projection"("group_id", "likely_at");

ALTER TABLE "window_projection" ADD CONSTRAINT "window_projection_group_id_lot_id_fkey" FOREIGN KEY ("group_id", "lot_id") REFERENCES "lot"("group_id", "id") ON DELETE CASCADE ON UPDATE CASCADE;

-- Either a window, whole and in order, or the reason why there is none.
ALTER TABLE window_projection
  ADD CONSTRAINT window_or_reason CHECK (
    (no_window IS NULL AND num_nulls(early_at, likely_at, late_at, limited_by, profile) = 0)
    OR (no_window IS NOT NULL AND num_nonnulls(early_at, likely_at, late_at, limited_by, profile) = 0)),
  ADD CONSTRAINT window_in_order CHECK (early_at <= likely_at AND likely_at <= late_at),
  ADD CONSTRAINT window_limited_by_a_clock CHECK (limited_by IN ('reserve', 'bud-break', 'water'));

GRANT SELECT, INSERT, UPDATE ON window_projection TO tallywood_app;
