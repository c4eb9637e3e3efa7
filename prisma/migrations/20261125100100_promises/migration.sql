-- What the tables alone cannot promise. Refusals carry our own SQLSTATEs (TW…), all named in
-- lib/platform/database/errors.ts; triggers only refuse, arithmetic stands in the ledger functions.

CREATE EXTENSION IF NOT EXISTS btree_gist;

-- ---- plain constraints ---------------------------------------------------------------------

ALTER TABLE installation ADD CONSTRAINT installation_is_one_row CHECK (id = 1);

ALTER TABLE login
  ADD CONSTRAINT login_email_is_lower_case CHECK (email = lower(btrim(email)) AND email LIKE '_%@_%'),
  ADD CONSTRAINT login_has_a_name CHECK (btrim(display_name) <> '');

ALTER TABLE orchard_group
  ADD CONSTRAINT group_slug_is_an_address CHECK (slug ~ '^[a-z0-9]+(-[a-z0-9]+)*$'),
  ADD CONSTRAINT group_has_a_name CHECK (btrim(name) <> '');

ALTER TABLE member
  ADD CONSTRAINT member_has_a_name CHECK (btrim(display_name) <> ''),
  ADD CONSTRAINT member_leaves_after_joining CHECK (left_on IS NULL OR left_on >= joined_on);

ALTER TABLE issued_code
  ADD CONSTRAINT code_uses_the_31_characters CHECK (code ~ '^[2-9A-HJKMNP-Z]{6}$');

ALTER TABLE tree ADD CONSTRAINT tree_code_is_a_tree_code CHECK (code_kind = 'tree');

ALTER TABLE lot
  ADD CONSTRAINT lot_code_is_a_lot_code CHECK (code_kind = 'lot'),
  ADD CONSTRAINT lot_bud_stage_is_bbch CHECK (bud_stage BETWEEN 0 AND 99);

ALTER TABLE limb
  ADD CONSTRAINT limb_has_a_mark CHECK (btrim(mark) <> ''),
  ADD CONSTRAINT limb_from_an_attempt_is_grafted_or_own CHECK (from_attempt_id IS NULL OR origin <> 'unknown'),
  ADD CONSTRAINT limb_height_is_on_a_tree CHECK (height_cm IS NULL OR height_cm BETWEEN 0 AND 5000);

ALTER TABLE store
  ADD CONSTRAINT store_temperature_is_earthly CHECK (typed_celsius IS NULL OR typed_celsius BETWEEN -40 AND 60);

ALTER TABLE reading
  ADD CONSTRAINT reading_is_earthly CHECK (celsius BETWEEN -60 AND 70);

ALTER TABLE stint
  ADD CONSTRAINT stint_ends_after_it_began CHECK (ended_at IS NULL OR ended_at > began_at),
  ADD CONSTRAINT stints_of_a_lot_do_not_overlap
    EXCLUDE USING gist (group_id WITH =, lot_id WITH =, tstzrange(began_at, ended_at) WITH &&);

ALTER TABLE holding
  ADD CONSTRAINT holding_account_is_known CHECK (
    CASE WHEN member_id IS NULL
      THEN account IN ('cut', 'store', 'promised', 'unnamed', 'parcel', 'used', 'destroyed', 'lost')
      ELSE account = 'member:' || member_id::text
    END),
  ADD CONSTRAINT holding_is_never_negative CHECK (CASE WHEN account = 'cut' THEN sticks <= 0 ELSE sticks >= 0 END);

ALTER TABLE move
  ADD CONSTRAINT move_carries_at_least_one_stick CHECK (sticks > 0),
  ADD CONSTRAINT move_goes_somewhere CHECK (from_account <> to_account),
  ADD CONSTRAINT move_reversal_names_what_it_corrects CHECK ((kind = 'reversal') = (reverses_id IS NOT NULL)),
  ADD CONSTRAINT move_reversal_has_a_reason CHECK (kind <> 'reversal' OR btrim(coalesce(reason, '')) <> ''),
  ADD CONSTRAINT move_of_a_claim_names_it CHECK (kind NOT IN ('promise', 'release', 'hand_over') OR claim_id IS NOT NULL),
  ADD CONSTRAINT move_kind_fits_its_accounts CHECK (
    CASE kind
      WHEN 'cut' THEN from_account = 'cut' AND to_account = 'store'
      WHEN 'promise' THEN from_account = 'store' AND to_account = 'promised'
      WHEN 'release' THEN from_account = 'promised' AND to_account = 'store'
      WHEN 'hand_over' THEN from_account = 'promised' AND to_account LIKE 'member:%'
      WHEN 'walk_up' THEN from_account = 'store' AND to_account = 'unnamed'
      WHEN 'post' THEN from_account = 'store' AND to_account = 'parcel'
      WHEN 'arrive' THEN from_account = 'parcel' AND to_account LIKE 'member:%'
      WHEN 'use' THEN (from_account = 'store' OR from_account LIKE 'member:%') AND to_account = 'used'
      WHEN 'destroy' THEN (from_account = 'store' OR from_account LIKE 'member:%') AND to_account = 'destroyed'
      WHEN 'lose' THEN (from_account IN ('store', 'parcel') OR from_account LIKE 'member:%') AND to_account = 'lost'
      WHEN 'bring_back' THEN (from_account IN ('unnamed', 'parcel', 'lost') OR from_account LIKE 'member:%') AND to_account = 'store'
      WHEN 'reversal' THEN true
    END);

ALTER TABLE health_hold
  ADD CONSTRAINT hold_is_on_one_thing CHECK ((lot_id IS NULL) <> (limb_id IS NULL)),
  ADD CONSTRAINT hold_has_a_reason CHECK (btrim(reason) <> ''),
  ADD CONSTRAINT hold_release_says_who_when_why CHECK (
    (released_by_id IS NULL AND released_at IS NULL AND release_reason IS NULL)
    OR (released_by_id IS NOT NULL AND released_at IS NOT NULL AND btrim(coalesce(release_reason, '')) <> ''));
CREATE UNIQUE INDEX hold_on_a_lot_is_open_once ON health_hold (group_id, lot_id) WHERE released_at IS NULL;
CREATE UNIQUE INDEX hold_on_a_limb_is_open_once ON health_hold (group_id, limb_id) WHERE released_at IS NULL;

ALTER TABLE swap
  ADD CONSTRAINT swap_claims_open_before_they_close CHECK (claims_open_at < claims_close_at),
  ADD CONSTRAINT swap_caps_allow_something CHECK (cap_per_member >= 1 AND cap_per_variety >= 1);

ALTER TABLE offering
  ADD CONSTRAINT offering_has_shares CHECK (sticks_per_share >= 1 AND shares >= 1),
  ADD CONSTRAINT offering_is_never_over_claimed CHECK (shares_claimed BETWEEN 0 AND shares);

ALTER TABLE claim
  ADD CONSTRAINT claim_is_for_something CHECK (shares >= 1 AND sticks >= 1),
  ADD CONSTRAINT claim_is_settled_once CHECK ((status = 'promised') = (settled_at IS NULL));
CREATE UNIQUE INDEX claim_stands_once_per_member_and_offering ON claim (group_id, offering_id, member_id) WHERE status = 'promised';

ALTER TABLE taking ADD CONSTRAINT taking_is_never_negative CHECK (shares >= 0);

ALTER TABLE attempt
  ADD CONSTRAINT attempt_has_pieces CHECK (pieces BETWEEN 1 AND 100000),
  ADD CONSTRAINT attempt_uses_sticks_only_of_a_lot CHECK (CASE WHEN lot_id IS NULL THEN sticks_used = 0 ELSE sticks_used >= 1 END),
  ADD CONSTRAINT attempt_withdrawal_has_a_reason CHECK ((withdrawn_at IS NULL) = (withdraw_reason IS NULL));

ALTER TABLE outcome_check
  ADD CONSTRAINT check_counts_add_up CHECK (alive >= 0 AND dead >= 0 AND unknown >= 0 AND alive + dead + unknown = pieces);

ALTER TABLE check_cause ADD CONSTRAINT cause_counts_pieces CHECK (pieces >= 1);

-- ---- entries that are never edited ---------------------------------------------------------

CREATE FUNCTION refuse_change() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  RAISE EXCEPTION '% is append-only: % is refused', TG_TABLE_NAME, TG_OP USING ERRCODE = 'TW001';
END $$;

CREATE TRIGGER move_is_append_only BEFORE UPDATE OR DELETE ON move FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER move_is_not_truncated BEFORE TRUNCATE ON move FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER audit_is_append_only BEFORE UPDATE OR DELETE ON audit_entry FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER audit_is_not_truncated BEFORE TRUNCATE ON audit_entry FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER code_is_never_reused BEFORE UPDATE OR DELETE ON issued_code FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER codes_are_not_truncated BEFORE TRUNCATE ON issued_code FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER key_has_one_effect BEFORE UPDATE OR DELETE ON idempotency_key FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER check_is_append_only BEFORE UPDATE OR DELETE ON outcome_check FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER cause_is_append_only BEFORE UPDATE OR DELETE ON check_cause FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER keys_are_not_truncated BEFORE TRUNCATE ON idempotency_key FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER checks_are_not_truncated BEFORE TRUNCATE ON outcome_check FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER causes_are_not_truncated BEFORE TRUNCATE ON check_cause FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

CREATE FUNCTION refuse_another_origin() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  RAISE EXCEPTION 'Where a % came from is never changed', TG_TABLE_NAME USING ERRCODE = 'TW002';
END $$;

CREATE TRIGGER lot_keeps_its_origin BEFORE UPDATE ON lot FOR EACH ROW
  WHEN ((OLD.group_id, OLD.id, OLD.limb_id, OLD.session_id, OLD.cut_on, OLD.code)
    IS DISTINCT FROM (NEW.group_id, NEW.id, NEW.limb_id, NEW.session_id, NEW.cut_on, NEW.code))
  EXECUTE FUNCTION refuse_another_origin();
CREATE TRIGGER attempt_keeps_its_origin BEFORE UPDATE ON attempt FOR EACH ROW
  WHEN ((OLD.group_id, OLD.id, OLD.lot_id, OLD.from_limb_id, OLD.variety_id, OLD.pieces, OLD.sticks_used)
    IS DISTINCT FROM (NEW.group_id, NEW.id, NEW.lot_id, NEW.from_limb_id, NEW.variety_id, NEW.pieces, NEW.sticks_used))
  EXECUTE FUNCTION refuse_another_origin();
CREATE TRIGGER tree_keeps_its_code BEFORE UPDATE ON tree FOR EACH ROW
  WHEN ((OLD.group_id, OLD.id, OLD.code) IS DISTINCT FROM (NEW.group_id, NEW.id, NEW.code))
  EXECUTE FUNCTION refuse_another_origin();
CREATE TRIGGER limb_keeps_its_tree BEFORE UPDATE ON limb FOR EACH ROW
  WHEN ((OLD.group_id, OLD.id, OLD.tree_id) IS DISTINCT FROM (NEW.group_id, NEW.id, NEW.tree_id))
  EXECUTE FUNCTION refuse_another_origin();

-- ---- lineage: limb ← attempt ← lot (or own limb) ← limb, without a circle --------------------

CREATE FUNCTION refuse_circular_lineage() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = public, pg_temp AS $$
BEGIN
  IF NEW.from_attempt_id IS NULL THEN RETURN NEW; END IF;
  -- Two limbs made each other's parents at the same moment would each see a clean tree.
  PERFORM pg_advisory_xact_lock(hashtextextended('lineage:' || NEW.group_id::text, 0));
  IF EXISTS (
    WITH RECURSIVE ancestor(limb_id) AS (
      SELECT coalesce(l.limb_id, a.from_limb_id)
        FROM attempt a LEFT JOIN lot l ON l.group_id = a.group_id AND l.id = a.lot_id
        WHERE a.group_id = NEW.group_id AND a.id = NEW.from_attempt_id
      UNION
      SELECT coalesce(l.limb_id, a.from_limb_id)
        FROM ancestor
        JOIN limb b ON b.group_id = NEW.group_id AND b.id = ancestor.limb_id
        JOIN attempt a ON a.group_id = b.group_id AND a.id = b.from_attempt_id
        LEFT JOIN lot l ON l.group_id = a.group_id AND l.id = a.lot_id)
    SELECT 1 FROM ancestor WHERE limb_id = NEW.id)
  THEN
    RAISE EXCEPTION 'A limb cannot come from its own wood' USING ERRCODE = 'TW020';
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER limb_lineage_is_acyclic BEFORE INSERT OR UPDATE OF from_attempt_id ON limb
  FOR EACH ROW EXECUTE FUNCTION refuse_circular_lineage();

CREATE FUNCTION refuse_causes_beyond_the_dead() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = public, pg_temp AS $$
BEGIN
  -- Two causes written at the same moment would each see only themselves.
  PERFORM 1 FROM outcome_check o WHERE o.group_id = NEW.group_id AND o.id = NEW.check_id FOR NO KEY UPDATE;
  IF (SELECT sum(c.pieces) FROM check_cause c WHERE c.group_id = NEW.group_id AND c.check_id = NEW.check_id)
     > (SELECT o.dead FROM outcome_check o WHERE o.group_id = NEW.group_id AND o.id = NEW.check_id)
  THEN
    RAISE EXCEPTION 'More causes than failures' USING ERRCODE = 'TW023';
  END IF;
  RETURN NULL;
END $$;
CREATE TRIGGER causes_explain_failures_only AFTER INSERT ON check_cause
  FOR EACH ROW EXECUTE FUNCTION refuse_causes_beyond_the_dead();

-- ---- holds: a held lot or limb gives nothing ----------------------------------------------

-- Placing a hold takes the row that every giving command shares, so neither can slip past the other.
CREATE FUNCTION lock_what_is_held() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = public, pg_temp AS $$
BEGIN
  PERFORM 1 FROM limb WHERE group_id = NEW.group_id AND id = NEW.limb_id FOR NO KEY UPDATE;
  PERFORM 1 FROM lot WHERE group_id = NEW.group_id AND (id = NEW.lot_id OR limb_id = NEW.limb_id) ORDER BY id FOR NO KEY UPDATE;
  RETURN NEW;
END $$;
CREATE TRIGGER hold_locks_its_wood BEFORE INSERT ON health_hold FOR EACH ROW EXECUTE FUNCTION lock_what_is_held();

CREATE FUNCTION refuse_if_held(p_group uuid, p_lot uuid, p_limb uuid) RETURNS void LANGUAGE plpgsql SECURITY DEFINER SET search_path = public, pg_temp AS $$
DECLARE v_reason text; v_at timestamptz;
BEGIN
  SELECT h.reason, h.placed_at INTO v_reason, v_at FROM health_hold h
    WHERE h.group_id = p_group AND h.released_at IS NULL AND (h.lot_id = p_lot OR h.limb_id = p_limb) LIMIT 1;
  IF FOUND THEN
    RAISE EXCEPTION 'On hold: %', v_reason
      USING ERRCODE = 'TW015', DETAIL = json_build_object('reason', v_reason, 'placedAt', v_at)::text;
  END IF;
END $$;

CREATE FUNCTION refuse_lot_of_a_held_limb() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = public, pg_temp AS $$
BEGIN
  PERFORM 1 FROM limb WHERE group_id = NEW.group_id AND id = NEW.limb_id FOR SHARE;
  PERFORM refuse_if_held(NEW.group_id, NULL, NEW.limb_id);
  RETURN NEW;
END $$;
CREATE TRIGGER held_limb_gives_no_lot BEFORE INSERT ON lot FOR EACH ROW EXECUTE FUNCTION refuse_lot_of_a_held_limb();

-- ---- offerings: not held, not protected, not of a family that does not travel ---------------

CREATE FUNCTION refuse_unfit_offering() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = public, pg_temp AS $$
DECLARE v record;
BEGIN
  IF TG_OP = 'INSERT' AND NEW.shares_claimed <> 0 THEN
    RAISE EXCEPTION 'Shares are claimed through the ledger alone' USING ERRCODE = 'TW022';
  END IF;
  IF NEW.withdrawn_at IS NOT NULL THEN RETURN NEW; END IF; -- taking wood off the table is always possible
  SELECT l.limb_id, y.name, y.protection, y.introduced_year, t.family, t.genus, g.allows_vitis, m.role, s.held_on
    INTO v
    FROM lot l
    JOIN limb b ON b.group_id = l.group_id AND b.id = l.limb_id
    LEFT JOIN variety y ON y.group_id = b.group_id AND y.id = b.variety_id
    LEFT JOIN taxon t ON t.key = y.taxon_key
    JOIN orchard_group g ON g.id = l.group_id
    JOIN swap s ON s.group_id = l.group_id AND s.id = NEW.swap_id
    JOIN member m ON m.group_id = l.group_id AND m.id = NEW.offered_by_id
    WHERE l.group_id = NEW.group_id AND l.id = NEW.lot_id
    FOR SHARE OF l, b;
  IF NOT FOUND THEN RETURN NEW; END IF; -- the foreign keys name what is missing
  PERFORM refuse_if_held(NEW.group_id, NEW.lot_id, v.limb_id);
  IF v.name IS NULL THEN
    RAISE EXCEPTION 'Wood without a name is not offered' USING ERRCODE = 'TW024';
  END IF;
  IF v.family = 'Rutaceae' OR (v.genus = 'Vitis' AND NOT v.allows_vitis) THEN
    RAISE EXCEPTION '% is not shared in this group', v.genus
      USING ERRCODE = 'TW017', DETAIL = json_build_object('genus', v.genus, 'family', v.family)::text;
  END IF;
  IF (v.protection IN ('in_force', 'pending', 'breeders_right')
      OR (v.protection = 'unknown' AND coalesce(v.introduced_year, 9999) > extract(year FROM v.held_on)::int - 30))
     AND (btrim(coalesce(NEW.override_reason, '')) = '' OR v.role NOT IN ('steward', 'organiser'))
  THEN
    RAISE EXCEPTION '% may be protected', v.name
      USING ERRCODE = 'TW016', DETAIL = json_build_object('variety', v.name, 'protection', v.protection)::text;
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER unfit_wood_is_not_offered BEFORE INSERT OR UPDATE OF lot_id, swap_id, override_reason, withdrawn_at ON offering
  FOR EACH ROW EXECUTE FUNCTION refuse_unfit_offering();
