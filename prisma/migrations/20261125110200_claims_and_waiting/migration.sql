-- Claims complete: a log entry with every move, the waiting list, changed claims, sticks nobody fetched, split lots.
-- Locks are taken in one order everywhere: swap, offering, claim, lot, takings, holdings. A lot's row is the gate to
-- its holdings: whoever moves its sticks holds it first.

-- ---- what is new in the tables --------------------------------------------------------------

ALTER TYPE move_kind ADD VALUE 'split';
CREATE TYPE waiting_status AS ENUM ('waiting', 'offered', 'accepted', 'declined', 'expired', 'left', 'closed');

ALTER TABLE swap
  ADD COLUMN waiting_hours int NOT NULL DEFAULT 24,
  ADD COLUMN no_show_at timestamptz(6),
  ADD COLUMN no_shows_released_at timestamptz(6),
  ADD CONSTRAINT swap_offers_lapse_in_time CHECK (waiting_hours BETWEEN 1 AND 336),
  ADD CONSTRAINT swap_waits_for_people_after_claims_close CHECK (no_show_at IS NULL OR no_show_at >= claims_close_at),
  ADD CONSTRAINT swap_releases_no_shows_at_their_time CHECK (
    no_shows_released_at IS NULL OR (no_show_at IS NOT NULL AND no_shows_released_at >= no_show_at));

ALTER TABLE offering
  ADD COLUMN shares_reserved int NOT NULL DEFAULT 0,
  ADD CONSTRAINT offering_keeps_what_is_reserved
    CHECK (shares_reserved >= 0 AND shares_claimed + shares_reserved <= shares);

CREATE TABLE waiting (
  group_id uuid NOT NULL,
  id uuid NOT NULL,
  seq bigserial NOT NULL,
  swap_id uuid NOT NULL,
  offering_id uuid NOT NULL,
  lot_id uuid NOT NULL,
  member_id uuid NOT NULL,
  shares int NOT NULL,
  purpose text,
  status waiting_status NOT NULL DEFAULT 'waiting',
  recorded_by_id uuid NOT NULL,
  asked_at timestamptz(6) NOT NULL,
  offered_shares int,
  offered_at timestamptz(6),
  expires_at timestamptz(6),
  told_at timestamptz(6),
  settled_at timestamptz(6),
  claim_id uuid,
  CONSTRAINT waiting_pkey PRIMARY KEY (group_id, id),
  CONSTRAINT waiting_group_id_offering_id_swap_id_lot_id_fkey FOREIGN KEY (group_id, offering_id, swap_id, lot_id)
    REFERENCES offering (group_id, id, swap_id, lot_id) ON DELETE RESTRICT ON UPDATE CASCADE,
  CONSTRAINT waiting_group_id_member_id_fkey FOREIGN KEY (group_id, member_id)
    REFERENCES member (group_id, id) ON DELETE RESTRICT ON UPDATE CASCADE,
  CONSTRAINT waiting_group_id_recorded_by_id_fkey FOREIGN KEY (group_id, recorded_by_id)
    REFERENCES member (group_id, id) ON DELETE RESTRICT ON UPDATE CASCADE,
  CONSTRAINT waiting_group_id_claim_id_fkey FOREIGN KEY (group_id, claim_id)
    REFERENCES claim (group_id, id) ON DELETE RESTRICT ON UPDATE CASCADE,
  CONSTRAINT waiting_asks_for_something CHECK (shares >= 1),
  CONSTRAINT waiting_offer_is_whole CHECK (
    (offered_shares IS NULL) = (offered_at IS NULL) AND (offered_at IS NULL) = (expires_at IS NULL)
    AND (offered_shares IS NULL OR (offered_shares BETWEEN 1 AND shares AND expires_at > offered_at))),
  CONSTRAINT waiting_status_says_what_was_offered CHECK (
    CASE WHEN status = 'waiting' THEN offered_shares IS NULL
      WHEN status IN ('offered', 'accepted', 'declined', 'expired') THEN offered_shares IS NOT NULL
      ELSE true END),
  CONSTRAINT waiting_is_settled_once CHECK ((status IN ('waiting', 'offered')) = (settled_at IS NULL)),
  CONSTRAINT waiting_that_was_accepted_names_its_claim CHECK ((status = 'accepted') = (claim_id IS NOT NULL)),
  CONSTRAINT waiting_person_is_told_of_an_offer CHECK (told_at IS NULL OR offered_at IS NOT NULL));
CREATE UNIQUE INDEX waiting_once_per_member_and_offering ON waiting (group_id, offering_id, member_id)
  WHERE status IN ('waiting', 'offered');
CREATE UNIQUE INDEX waiting_group_id_claim_id_key ON waiting (group_id, claim_id);
CREATE INDEX waiting_group_id_offering_id_seq_idx ON waiting (group_id, offering_id, seq);
CREATE INDEX waiting_group_id_swap_id_member_id_idx ON waiting (group_id, swap_id, member_id);
CREATE INDEX waiting_is_open ON waiting (group_id, swap_id, offering_id) WHERE status IN ('waiting', 'offered');

-- A place in the line is never given to somebody else, and what is settled stays so.
CREATE TRIGGER waiting_keeps_its_place BEFORE UPDATE ON waiting FOR EACH ROW
  WHEN ((OLD.group_id, OLD.id, OLD.seq, OLD.offering_id, OLD.member_id, OLD.shares, OLD.asked_at)
      IS DISTINCT FROM (NEW.group_id, NEW.id, NEW.seq, NEW.offering_id, NEW.member_id, NEW.shares, NEW.asked_at)
    OR (OLD.settled_at IS NOT NULL AND (OLD.status, OLD.settled_at, OLD.claim_id, OLD.offered_shares)
      IS DISTINCT FROM (NEW.status, NEW.settled_at, NEW.claim_id, NEW.offered_shares)))
  EXECUTE FUNCTION refuse_change();
CREATE TRIGGER waiting_is_not_deleted BEFORE DELETE ON waiting FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER waiting_is_not_truncated BEFORE TRUNCATE ON waiting FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

-- A part of a lot that goes into another store is a lot of its own, of the same limb, session and day.
ALTER TABLE lot ADD COLUMN split_from_id uuid;
CREATE UNIQUE INDEX lot_group_id_id_limb_id_session_id_key ON lot (group_id, id, limb_id, session_id);
CREATE INDEX lot_group_id_split_from_id_idx ON lot (group_id, split_from_id);
ALTER TABLE lot
  ADD CONSTRAINT lot_group_id_split_from_id_limb_id_session_id_fkey FOREIGN KEY (group_id, split_from_id, limb_id, session_id)
    REFERENCES lot (group_id, id, limb_id, session_id) ON DELETE RESTRICT ON UPDATE RESTRICT,
  ADD CONSTRAINT lot_is_not_split_from_itself CHECK (split_from_id IS DISTINCT FROM id);
CREATE TRIGGER lot_keeps_what_it_was_split_from BEFORE UPDATE ON lot FOR EACH ROW
  WHEN (OLD.split_from_id IS DISTINCT FROM NEW.split_from_id) EXECUTE FUNCTION refuse_another_origin();

-- The long rule stands in a function: as an expression it would be read anew with every entry.
CREATE FUNCTION move_fits(p_kind text, p_from text, p_to text) RETURNS boolean LANGUAGE plpgsql IMMUTABLE AS $$
BEGIN
  RETURN CASE p_kind
    WHEN 'promise' THEN p_from = 'store' AND p_to = 'promised'
    WHEN 'release' THEN p_from = 'promised' AND p_to = 'store'
    WHEN 'hand_over' THEN p_from = 'promised' AND p_to LIKE 'member:%'
    WHEN 'cut' THEN p_from = 'cut' AND p_to = 'store'
    -- What a lot gives to another was not cut into this one after all: the sticks go back to `cut` here and come
    -- out of it there, so that all lots together still count what was cut.
    WHEN 'split' THEN (p_from = 'store' AND p_to = 'cut') OR (p_from = 'cut' AND p_to = 'store')
    WHEN 'walk_up' THEN p_from = 'store' AND p_to = 'unnamed'
    WHEN 'post' THEN p_from = 'store' AND p_to = 'parcel'
    WHEN 'arrive' THEN p_from = 'parcel' AND p_to LIKE 'member:%'
    WHEN 'use' THEN (p_from = 'store' OR p_from LIKE 'member:%') AND p_to = 'used'
    WHEN 'destroy' THEN (p_from = 'store' OR p_from LIKE 'member:%') AND p_to = 'destroyed'
    WHEN 'lose' THEN (p_from IN ('store', 'parcel') OR p_from LIKE 'member:%') AND p_to = 'lost'
    WHEN 'bring_back' THEN (p_from IN ('unnamed', 'parcel', 'lost') OR p_from LIKE 'member:%') AND p_to = 'store'
    WHEN 'reversal' THEN true
    ELSE false END;
END $$;
ALTER TABLE move
  DROP CONSTRAINT move_kind_fits_its_accounts,
  ADD CONSTRAINT move_kind_fits_its_accounts CHECK (move_fits(kind::text, from_account, to_account));

-- Rows that are counted up and down keep room beside them, so that their indexes need not be touched.
ALTER TABLE offering SET (fillfactor = 50);
ALTER TABLE holding SET (fillfactor = 70);
ALTER TABLE taking SET (fillfactor = 80);

CREATE OR REPLACE FUNCTION refuse_unfit_offering() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = public, pg_temp AS $$
DECLARE v record;
BEGIN
  IF TG_OP = 'INSERT' AND (NEW.shares_claimed <> 0 OR NEW.shares_reserved <> 0) THEN
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

-- ---- the inner functions -------------------------------------------------------------------------

CREATE OR REPLACE FUNCTION ledger_move(
  p_group uuid, p_id uuid, p_lot uuid, p_kind move_kind, p_from text, p_to text, p_sticks int,
  p_happened_at timestamptz, p_recorded_by uuid, p_on_behalf_of uuid DEFAULT NULL, p_reason text DEFAULT NULL,
  p_reverses uuid DEFAULT NULL, p_claim uuid DEFAULT NULL, p_attempt uuid DEFAULT NULL)
RETURNS int LANGUAGE plpgsql AS $$
DECLARE v_from int; v_to int;
BEGIN
  PERFORM 1 FROM lot WHERE group_id = p_group AND id = p_lot FOR NO KEY UPDATE;
  -- A never-used account is given an empty row first, so that it locks like any other.
  INSERT INTO holding (group_id, lot_id, account, member_id)
    SELECT p_group, p_lot, a, CASE WHEN a LIKE 'member:%' THEN substr(a, 8)::uuid END
    FROM unnest(ARRAY[least(p_from, p_to), greatest(p_from, p_to)]) AS a
    ON CONFLICT DO NOTHING;
  PERFORM 1 FROM holding WHERE group_id = p_group AND lot_id = p_lot AND account IN (p_from, p_to)
    ORDER BY account FOR UPDATE;
  SELECT sticks INTO v_from FROM holding WHERE group_id = p_group AND lot_id = p_lot AND account = p_from;
  IF p_from <> 'cut' AND v_from < p_sticks THEN
    RAISE EXCEPTION 'Only % left on %', v_from, p_from
      USING ERRCODE = 'TW010', DETAIL = json_build_object('left', v_from, 'account', p_from)::text;
  END IF;
  UPDATE holding SET sticks = sticks - p_sticks
    WHERE group_id = p_group AND lot_id = p_lot AND account = p_from RETURNING sticks INTO v_from;
  UPDATE holding SET sticks = sticks + p_sticks
    WHERE group_id = p_group AND lot_id = p_lot AND account = p_to RETURNING sticks INTO v_to;
  INSERT INTO move (group_id, id, lot_id, kind, from_account, to_account, sticks, from_after, to_after,
      happened_at, recorded_by_id, on_behalf_of_id, reason, reverses_id, claim_id, attempt_id)
    VALUES (p_group, p_id, p_lot, p_kind, p_from, p_to, p_sticks, v_from, v_to,
      p_happened_at, p_recorded_by, p_on_behalf_of, p_reason, p_reverses, p_claim, p_attempt);
  RETURN v_from;
END $$;

/* Who did what to a lot, when and on whose behalf, in the same breath as the deed. */
CREATE FUNCTION ledger_note(
  p_group uuid, p_id uuid, p_lot uuid, p_by uuid, p_for uuid, p_at timestamptz, p_action text, p_detail jsonb)
RETURNS void LANGUAGE plpgsql AS $$
BEGIN
  INSERT INTO audit_entry (group_id, id, at, actor_id, on_behalf_of, action, subject, detail)
    SELECT p_group, p_id, p_at, p_by, nullif(p_for, p_by), p_action, 'lot:' || l.code, jsonb_strip_nulls(p_detail)
      FROM lot l WHERE l.group_id = p_group AND l.id = p_lot;
END $$;

/* Holds a swap, an offering and its lot until the transaction ends, in this order. */
CREATE FUNCTION ledger_hold_offering(p_group uuid, p_offering uuid) RETURNS void LANGUAGE plpgsql AS $$
BEGIN
  PERFORM 1 FROM swap s JOIN offering o ON o.group_id = s.group_id AND o.swap_id = s.id
    JOIN lot l ON l.group_id = o.group_id AND l.id = o.lot_id
    WHERE o.group_id = p_group AND o.id = p_offering
    FOR SHARE OF s FOR NO KEY UPDATE OF o FOR NO KEY UPDATE OF l;
END $$;

/*
 * Offers what is free of an offering to the people who wait for it, strictly in order: offers that were not answered
 * in time lapse, those who may not take more are passed over and keep their place. A place in a swap that is over, or
 * of a lot that was withdrawn, is closed. Answers how many offers were made.
 */
CREATE FUNCTION ledger_serve(p_group uuid, p_offering uuid, p_now timestamptz) RETURNS int LANGUAGE plpgsql AS $$
DECLARE v record; w record; v_free int; v_give int; v_made int := 0; v_back int;
BEGIN
  PERFORM ledger_hold_offering(p_group, p_offering);
  WITH lapsed AS (UPDATE waiting SET status = 'expired', settled_at = p_now
      WHERE group_id = p_group AND offering_id = p_offering AND status = 'offered' AND expires_at <= p_now
      RETURNING offered_shares)
    SELECT coalesce(sum(offered_shares), 0) INTO v_back FROM lapsed;
  SELECT o.withdrawn_at IS NOT NULL OR s.status = 'finished' AS over, s.status, o.swap_id, b.variety_id,
      s.cap_per_member, s.cap_per_variety, s.waiting_hours,
      least(o.shares - o.shares_claimed, coalesce(h.sticks, 0) / o.sticks_per_share) - o.shares_reserved + v_back AS free,
      EXISTS (SELECT FROM health_hold k WHERE k.group_id = p_group AND k.released_at IS NULL
        AND (k.lot_id = l.id OR k.limb_id = l.limb_id)) AS held
    INTO v
    FROM offering o
    JOIN swap s ON s.group_id = o.group_id AND s.id = o.swap_id
    JOIN lot l ON l.group_id = o.group_id AND l.id = o.lot_id
    JOIN limb b ON b.group_id = l.group_id AND b.id = l.limb_id
    LEFT JOIN holding h ON h.group_id = l.group_id AND h.lot_id = l.id AND h.account = 'store'
    WHERE o.group_id = p_group AND o.id = p_offering;
  IF NOT FOUND THEN RETURN 0; END IF;
  IF v.over THEN
    UPDATE waiting SET status = 'closed', settled_at = p_now
      WHERE group_id = p_group AND offering_id = p_offering AND status IN ('waiting', 'offered');
    UPDATE offering SET shares_reserved = 0 WHERE group_id = p_group AND id = p_offering AND shares_reserved <> 0;
    RETURN 0;
  END IF;
  v_free := v.free;
  IF v.status = 'open' AND NOT v.held AND v.variety_id IS NOT NULL THEN
    FOR w IN
      SELECT q.id, q.shares,
          v.cap_per_member - coalesce((SELECT t.shares FROM taking t WHERE t.group_id = p_group
            AND t.swap_id = v.swap_id AND t.member_id = q.member_id AND t.scope = 'swap'), 0) AS room,
          v.cap_per_variety - coalesce((SELECT t.shares FROM taking t WHERE t.group_id = p_group
            AND t.swap_id = v.swap_id AND t.member_id = q.member_id AND t.scope = v.variety_id::text), 0) AS room_here
        FROM waiting q JOIN member m ON m.group_id = q.group_id AND m.id = q.member_id
        WHERE q.group_id = p_group AND q.offering_id = p_offering AND q.status = 'waiting' AND m.left_on IS NULL
          AND NOT EXISTS (SELECT FROM claim c WHERE c.group_id = p_group AND c.offering_id = p_offering
            AND c.member_id = q.member_id AND c.status = 'promised')
        ORDER BY q.seq
    LOOP
      EXIT WHEN v_free < 1;
      v_give := least(w.shares, w.room, w.room_here, v_free);
      CONTINUE WHEN v_give < 1;
      UPDATE waiting SET status = 'offered', offered_shares = v_give, offered_at = p_now,
          expires_at = p_now + make_interval(hours => v.waiting_hours)
        WHERE group_id = p_group AND id = w.id;
      v_free := v_free - v_give;
      v_back := v_back - v_give;
      v_made := v_made + 1;
    END LOOP;
  END IF;
  IF v_back <> 0 THEN
    UPDATE offering SET shares_reserved = shares_reserved - v_back WHERE group_id = p_group AND id = p_offering;
  END IF;
  RETURN v_made;
END $$;

/*
 * Writes a promise and everything that goes with it in one statement: the count of the offering, the claim, both
 * holdings, the ledger's entry, the log, the limits and, when there is one, the key. Whoever calls it holds the
 * offering and the lot and has looked at what is there; the limits are looked at afterwards and undo it all.
 */
CREATE FUNCTION ledger_promise(
  p_group uuid, p_claim uuid, p_move uuid, p_offering uuid, p_swap uuid, p_lot uuid, p_code text, p_variety uuid,
  p_member uuid, p_by uuid, p_shares int, p_sticks int, p_store int, p_promised int, p_reserved int, p_purpose text,
  p_now timestamptz, p_cap int, p_cap_variety int, p_action text, p_key uuid, p_hash text, p_answer jsonb)
RETURNS void LANGUAGE plpgsql AS $$
DECLARE v_all int; v_variety int; v_for uuid := nullif(p_member, p_by);
BEGIN
  WITH seen AS (
      INSERT INTO idempotency_key (group_id, key, command, input_hash, answer)
        VALUES (p_group, p_key, p_action, p_hash, p_answer)),
    counted AS (
      UPDATE offering SET shares_claimed = shares_claimed + p_shares, shares_reserved = shares_reserved - p_reserved
        WHERE group_id = p_group AND id = p_offering),
    claimed AS (
      INSERT INTO claim (group_id, id, swap_id, offering_id, lot_id, member_id, variety_id, shares, sticks, purpose,
          recorded_by_id, made_at)
        VALUES (p_group, p_claim, p_swap, p_offering, p_lot, p_member, p_variety, p_shares, p_sticks, p_purpose,
          p_by, p_now)),
    held AS (
      UPDATE holding SET sticks = sticks + CASE account WHEN 'store' THEN -p_sticks ELSE p_sticks END
        WHERE group_id = p_group AND lot_id = p_lot AND account IN ('promised', 'store')),
    moved AS (
      INSERT INTO move (group_id, id, lot_id, kind, from_account, to_account, sticks, from_after, to_after,
          happened_at, recorded_by_id, on_behalf_of_id, claim_id)
        VALUES (p_group, p_move, p_lot, 'promise', 'store', 'promised', p_sticks, p_store - p_sticks,
          p_promised + p_sticks, p_now, p_by, v_for, p_claim)),
    noted AS (
      INSERT INTO audit_entry (group_id, id, at, actor_id, on_behalf_of, action, subject, detail)
        VALUES (p_group, p_move, p_now, p_by, v_for, p_action, 'lot:' || p_code,
          jsonb_build_object('claimId', p_claim, 'shares', p_shares, 'sticks', p_sticks))),
    taken AS (
      INSERT INTO taking (group_id, swap_id, member_id, scope, shares)
        VALUES (p_group, p_swap, p_member, 'swap', p_shares), (p_group, p_swap, p_member, p_variety::text, p_shares)
        ON CONFLICT (group_id, swap_id, member_id, scope) DO UPDATE SET shares = taking.shares + excluded.shares
        RETURNING scope, shares)
    SELECT max(shares) FILTER (WHERE scope = 'swap'), max(shares) FILTER (WHERE scope <> 'swap')
      INTO v_all, v_variety FROM taken;
  PERFORM ledger_within(p_shares, v_all, p_cap, v_variety, p_cap_variety);
END $$;

/* Refuses what goes past a member's limits, and says what was held before. */
CREATE FUNCTION ledger_within(p_shares int, p_all int, p_cap int, p_variety int, p_cap_variety int)
RETURNS void LANGUAGE plpgsql AS $$
BEGIN
  IF p_all > p_cap THEN
    RAISE EXCEPTION 'The limit is %', p_cap
      USING ERRCODE = 'TW012', DETAIL = json_build_object('cap', p_cap, 'held', p_all - p_shares)::text;
  END IF;
  IF p_variety > p_cap_variety THEN
    RAISE EXCEPTION 'The limit is %', p_cap_variety
      USING ERRCODE = 'TW013', DETAIL = json_build_object('cap', p_cap_variety, 'held', p_variety - p_shares)::text;
  END IF;
END $$;

CREATE FUNCTION ledger_refuse_closed(p_status swap_status, p_opens timestamptz, p_closes timestamptz)
RETURNS void LANGUAGE plpgsql AS $$
BEGIN
  RAISE EXCEPTION 'Claims are not open' USING ERRCODE = 'TW014',
    DETAIL = json_build_object('opensAt', p_opens, 'closesAt', p_closes, 'status', p_status)::text;
END $$;

/* A key that was used: true for the same command and entries, refused for any other. */
CREATE FUNCTION ledger_same(p_command text, p_hash text, p_seen_command text, p_seen_hash text)
RETURNS boolean LANGUAGE plpgsql AS $$
BEGIN
  IF p_seen_command <> p_command OR p_seen_hash <> p_hash THEN
    RAISE EXCEPTION 'This form was already sent with other entries' USING ERRCODE = 'TW018';
  END IF;
  RETURN true;
END $$;

-- ---- claims --------------------------------------------------------------------------------------

/*
 * Promises shares of an offering to a member, in one round trip: the right to claim, the limits, the count, the
 * ledger's entry and the log. Two looks and one write: everything is locked in the first, and looked at anew in the
 * second, after the wait. The same key with the same input answers the same again and changes nothing.
 */
CREATE OR REPLACE FUNCTION claim_shares(
  p_group uuid, p_claim uuid, p_move uuid, p_offering uuid, p_member uuid, p_recorded_by uuid, p_shares int,
  p_purpose text, p_now timestamptz, p_key uuid, p_hash text)
RETURNS TABLE (claim_id uuid, claim_sticks int, shares_left int, replayed boolean)
LANGUAGE plpgsql SECURITY DEFINER SET search_path = public, pg_temp AS $$
DECLARE v record; w record; v_sticks int; v_left int;
BEGIN
  -- The swap first: whoever finishes it waits for this claim, or this claim finds it finished.
  SELECT o.swap_id, o.lot_id, o.shares, o.shares_claimed, o.shares_reserved, o.sticks_per_share, o.withdrawn_at,
      s.status, s.claims_open_at, s.claims_close_at, s.cap_per_member, s.cap_per_variety, l.limb_id, l.code
    INTO v
    FROM swap s
    JOIN offering o ON o.group_id = s.group_id AND o.swap_id = s.id
    JOIN lot l ON l.group_id = o.group_id AND l.id = o.lot_id
    WHERE o.group_id = p_group AND o.id = p_offering
    FOR SHARE OF s FOR NO KEY UPDATE OF o FOR NO KEY UPDATE OF l;
  IF NOT FOUND THEN RAISE EXCEPTION 'This lot is not offered' USING ERRCODE = 'TW019'; END IF;
  -- A second statement: what others wrote while this one waited for its locks is seen only now.
  SELECT b.variety_id, m.id IS NOT NULL AS is_member, k.command, k.input_hash, k.answer,
      EXISTS (SELECT FROM claim c WHERE c.group_id = p_group AND c.offering_id = p_offering
        AND c.member_id = p_member AND c.status = 'promised') AS claimed,
      EXISTS (SELECT FROM waiting q WHERE q.group_id = p_group AND q.offering_id = p_offering
        AND q.status IN ('waiting', 'offered')) AS awaited,
      EXISTS (SELECT FROM health_hold h WHERE h.group_id = p_group AND h.lot_id = v.lot_id AND h.released_at IS NULL)
        OR EXISTS (SELECT FROM health_hold h WHERE h.group_id = p_group AND h.limb_id = v.limb_id AND h.released_at IS NULL)
        AS held,
      (SELECT h.sticks FROM holding h WHERE h.group_id = p_group AND h.lot_id = v.lot_id AND h.account = 'store') AS store,
      (SELECT h.sticks FROM holding h WHERE h.group_id = p_group AND h.lot_id = v.lot_id AND h.account = 'promised') AS promised
    INTO w
    FROM limb b
    LEFT JOIN member m ON m.group_id = p_group AND m.id = p_member AND m.left_on IS NULL
    LEFT JOIN idempotency_key k ON k.group_id = p_group AND k.key = p_key
    WHERE b.group_id = p_group AND b.id = v.limb_id;
  IF w.command IS NOT NULL AND ledger_same('claim-shares', p_hash, w.command, w.input_hash) THEN
    RETURN QUERY SELECT c.id, c.sticks, o.shares - o.shares_claimed - o.shares_reserved, true
      FROM claim c JOIN offering o ON o.group_id = c.group_id AND o.id = c.offering_id
      WHERE c.group_id = p_group AND c.id = (w.answer ->> 'claimId')::uuid;
    RETURN;
  END IF;
  IF p_shares < 1 THEN RAISE EXCEPTION 'A claim is for at least one share' USING ERRCODE = 'TW022'; END IF;
  IF NOT w.is_member OR v.withdrawn_at IS NOT NULL THEN
    RAISE EXCEPTION 'No such member, or this lot is not offered' USING ERRCODE = 'TW019';
  END IF;
  IF v.status <> 'open' OR p_now < v.claims_open_at OR p_now >= v.claims_close_at THEN
    PERFORM ledger_refuse_closed(v.status, v.claims_open_at, v.claims_close_at);
  END IF;
  IF w.held THEN PERFORM refuse_if_held(p_group, v.lot_id, v.limb_id); END IF;
  IF w.variety_id IS NULL THEN
    RAISE EXCEPTION 'Wood that has lost its name is not claimed' USING ERRCODE = 'TW024';
  END IF;
  IF w.claimed THEN RAISE EXCEPTION 'Already claimed' USING ERRCODE = 'TW021'; END IF;
  IF w.awaited THEN
    -- Those who wait come first, also for what has come free since anybody looked.
    PERFORM ledger_serve(p_group, p_offering, p_now);
    SELECT o.shares_reserved INTO v.shares_reserved FROM offering o WHERE o.group_id = p_group AND o.id = p_offering;
  END IF;
  v_left := v.shares - v.shares_claimed - v.shares_reserved;
  IF v_left < p_shares THEN
    RAISE EXCEPTION 'Only % left', v_left USING ERRCODE = 'TW011', DETAIL = json_build_object('left', v_left)::text;
  END IF;
  v_sticks := p_shares * v.sticks_per_share;
  -- Sticks that are kept for an offer are in the store still, and nobody else's.
  IF coalesce(w.store, 0) - v.shares_reserved * v.sticks_per_share < v_sticks THEN
    -- Whoever is at their limit is told of that first, as when the sticks were there.
    PERFORM ledger_within(p_shares,
        p_shares + coalesce(max(t.shares) FILTER (WHERE t.scope = 'swap'), 0), v.cap_per_member,
        p_shares + coalesce(max(t.shares) FILTER (WHERE t.scope = w.variety_id::text), 0), v.cap_per_variety)
      FROM taking t WHERE t.group_id = p_group AND t.swap_id = v.swap_id AND t.member_id = p_member;
    v_left := greatest(coalesce(w.store, 0) - v.shares_reserved * v.sticks_per_share, 0);
    RAISE EXCEPTION 'Only % left in the store', v_left
      USING ERRCODE = 'TW010', DETAIL = json_build_object('left', v_left, 'account', 'store')::text;
  END IF;
  IF w.promised IS NULL THEN
    INSERT INTO holding (group_id, lot_id, account) VALUES (p_group, v.lot_id, 'promised') ON CONFLICT DO NOTHING;
  END IF;
  PERFORM ledger_promise(p_group, p_claim, p_move, p_offering, v.swap_id, v.lot_id, v.code, w.variety_id, p_member,
    p_recorded_by, p_shares, v_sticks, w.store, coalesce(w.promised, 0), 0, p_purpose, p_now, v.cap_per_member,
    v.cap_per_variety, 'claim-shares', p_key, p_hash, jsonb_build_object('claimId', p_claim));
  RETURN QUERY SELECT p_claim, v_sticks, v_left - p_shares, false;
END $$;

/* A claim that stands as wanted, held together with its swap, its offering and its lot. */
CREATE OR REPLACE FUNCTION ledger_standing_claim(p_group uuid, p_claim uuid, p_wanted claim_status)
RETURNS claim LANGUAGE plpgsql AS $$
DECLARE c claim;
BEGIN
  PERFORM ledger_hold_offering(p_group, k.offering_id) FROM claim k WHERE k.group_id = p_group AND k.id = p_claim;
  SELECT * INTO c FROM claim WHERE group_id = p_group AND id = p_claim FOR UPDATE;
  IF NOT FOUND THEN RAISE EXCEPTION 'No such claim' USING ERRCODE = 'TW019'; END IF;
  IF c.status <> p_wanted THEN
    RAISE EXCEPTION 'This claim is %', c.status
      USING ERRCODE = 'TW022', DETAIL = json_build_object('status', c.status, 'settledAt', c.settled_at)::text;
  END IF;
  RETURN c;
END $$;

/* Lets a standing claim go: shares, limits, sticks, the ledger's entry and the log. */
CREATE FUNCTION ledger_let_go(p_group uuid, c claim, p_move uuid, p_by uuid, p_now timestamptz, p_reason text, p_action text)
RETURNS void LANGUAGE plpgsql AS $$
BEGIN
  PERFORM ledger_give_back_shares(p_group, c);
  UPDATE claim SET status = 'cancelled', settled_at = p_now WHERE group_id = p_group AND id = c.id;
  PERFORM ledger_move(p_group, p_move, c.lot_id, 'release', 'promised', 'store', c.sticks, p_now, p_by,
    nullif(c.member_id, p_by), p_reason, NULL, c.id, NULL);
  PERFORM ledger_note(p_group, p_move, c.lot_id, p_by, c.member_id, p_now, p_action,
    jsonb_build_object('claimId', c.id, 'shares', c.shares, 'sticks', c.sticks, 'reason', p_reason));
END $$;

/* Gives a promised claim back: its sticks return to the store, its shares to whoever waits, or to the table. */
CREATE OR REPLACE FUNCTION cancel_claim(
  p_group uuid, p_claim uuid, p_move uuid, p_recorded_by uuid, p_now timestamptz, p_reason text, p_key uuid, p_hash text)
RETURNS TABLE (claim_id uuid, claim_sticks int, replayed boolean)
LANGUAGE plpgsql SECURITY DEFINER SET search_path = public, pg_temp AS $$
DECLARE c claim;
BEGIN
  IF ledger_seen(p_group, p_key, 'cancel', p_hash, jsonb_build_object('claimId', p_claim)) THEN
    RETURN QUERY SELECT k.id, k.sticks, true FROM claim k WHERE k.group_id = p_group AND k.id = p_claim;
    RETURN;
  END IF;
  c := ledger_standing_claim(p_group, p_claim, 'promised');
  PERFORM ledger_let_go(p_group, c, p_move, p_recorded_by, p_now, p_reason, 'give-back-claim');
  PERFORM ledger_serve(p_group, c.offering_id, p_now);
  RETURN QUERY SELECT p_claim, c.sticks, false;
END $$;

/*
 * Changes how many shares a standing claim is for, in one step: more as a claim would get them, while claims are open
 * and nobody waits for them; fewer at any time, and what comes free goes to whoever waits.
 */
CREATE FUNCTION change_claim(
  p_group uuid, p_claim uuid, p_move uuid, p_recorded_by uuid, p_shares int, p_now timestamptz, p_key uuid, p_hash text)
RETURNS TABLE (claim_id uuid, claim_sticks int, shares_left int, replayed boolean)
LANGUAGE plpgsql SECURITY DEFINER SET search_path = public, pg_temp AS $$
DECLARE c claim; v record; v_more int; v_sticks int; v_left int; v_all int; v_variety int;
BEGIN
  IF ledger_seen(p_group, p_key, 'change-claim', p_hash, jsonb_build_object('claimId', p_claim)) THEN
    RETURN QUERY SELECT k.id, k.sticks, o.shares - o.shares_claimed - o.shares_reserved, true
      FROM claim k JOIN offering o ON o.group_id = k.group_id AND o.id = k.offering_id
      WHERE k.group_id = p_group AND k.id = p_claim;
    RETURN;
  END IF;
  c := ledger_standing_claim(p_group, p_claim, 'promised');
  IF p_shares < 1 OR p_shares = c.shares THEN
    RAISE EXCEPTION 'A claim is changed to another number of shares' USING ERRCODE = 'TW022',
      DETAIL = json_build_object('status', c.status)::text;
  END IF;
  v_more := p_shares - c.shares;
  IF v_more > 0 THEN PERFORM ledger_serve(p_group, c.offering_id, p_now); END IF;
  SELECT o.shares - o.shares_claimed - o.shares_reserved AS free, o.shares_reserved, o.sticks_per_share, o.withdrawn_at,
      s.status, s.claims_open_at, s.claims_close_at, s.cap_per_member, s.cap_per_variety, l.limb_id,
      coalesce(h.sticks, 0) AS store
    INTO v
    FROM offering o
    JOIN swap s ON s.group_id = o.group_id AND s.id = o.swap_id
    JOIN lot l ON l.group_id = o.group_id AND l.id = o.lot_id
    LEFT JOIN holding h ON h.group_id = l.group_id AND h.lot_id = l.id AND h.account = 'store'
    WHERE o.group_id = p_group AND o.id = c.offering_id;
  v_sticks := p_shares * v.sticks_per_share;
  IF v_more > 0 THEN
    IF v.status <> 'open' OR p_now < v.claims_open_at OR p_now >= v.claims_close_at OR v.withdrawn_at IS NOT NULL THEN
      PERFORM ledger_refuse_closed(v.status, v.claims_open_at, v.claims_close_at);
    END IF;
    PERFORM refuse_if_held(p_group, c.lot_id, v.limb_id);
    v_left := greatest(least(v.free, v.store / v.sticks_per_share - v.shares_reserved), 0);
    IF v_left < v_more THEN
      RAISE EXCEPTION 'Only % left', v_left USING ERRCODE = 'TW011', DETAIL = json_build_object('left', v_left)::text;
    END IF;
  END IF;
  UPDATE offering SET shares_claimed = shares_claimed + v_more WHERE group_id = p_group AND id = c.offering_id;
  UPDATE taking SET shares = shares + v_more
    WHERE group_id = p_group AND swap_id = c.swap_id AND member_id = c.member_id AND scope = 'swap'
    RETURNING shares INTO v_all;
  UPDATE taking SET shares = shares + v_more
    WHERE group_id = p_group AND swap_id = c.swap_id AND member_id = c.member_id AND scope = c.variety_id::text
    RETURNING shares INTO v_variety;
  IF v_more > 0 THEN PERFORM ledger_within(v_more, v_all, v.cap_per_member, v_variety, v.cap_per_variety); END IF;
  UPDATE claim SET shares = p_shares, sticks = v_sticks WHERE group_id = p_group AND id = p_claim;
  IF v_sticks > c.sticks THEN
    PERFORM ledger_move(p_group, p_move, c.lot_id, 'promise', 'store', 'promised', v_sticks - c.sticks, p_now,
      p_recorded_by, nullif(c.member_id, p_recorded_by), NULL, NULL, p_claim, NULL);
  ELSIF v_sticks < c.sticks THEN
    PERFORM ledger_move(p_group, p_move, c.lot_id, 'release', 'promised', 'store', c.sticks - v_sticks, p_now,
      p_recorded_by, nullif(c.member_id, p_recorded_by), NULL, NULL, p_claim, NULL);
  END IF;
  PERFORM ledger_note(p_group, p_move, c.lot_id, p_recorded_by, c.member_id, p_now, 'change-claim',
    jsonb_build_object('claimId', p_claim, 'shares', p_shares, 'sharesBefore', c.shares, 'sticks', v_sticks));
  IF v_more < 0 THEN PERFORM ledger_serve(p_group, c.offering_id, p_now); END IF;
  RETURN QUERY SELECT p_claim, v_sticks, o.shares - o.shares_claimed - o.shares_reserved, false
    FROM offering o WHERE o.group_id = p_group AND o.id = c.offering_id;
END $$;

/* Hands promised sticks to the person; what is not handed over goes back to the store. */
CREATE OR REPLACE FUNCTION hand_over_claim(
  p_group uuid, p_claim uuid, p_move uuid, p_rest_move uuid, p_recorded_by uuid, p_sticks int, p_now timestamptz,
  p_key uuid, p_hash text)
RETURNS TABLE (claim_id uuid, handed_sticks int, replayed boolean)
LANGUAGE plpgsql SECURITY DEFINER SET search_path = public, pg_temp AS $$
DECLARE c claim; v_limb uuid;
BEGIN
  IF ledger_seen(p_group, p_key, 'hand-over', p_hash, jsonb_build_object('claimId', p_claim)) THEN
    RETURN QUERY SELECT k.id, k.sticks, true FROM claim k WHERE k.group_id = p_group AND k.id = p_claim;
    RETURN;
  END IF;
  c := ledger_standing_claim(p_group, p_claim, 'promised');
  IF p_sticks < 1 OR p_sticks > c.sticks THEN
    RAISE EXCEPTION 'Promised were %', c.sticks USING ERRCODE = 'TW010',
      DETAIL = json_build_object('left', c.sticks, 'account', 'promised')::text;
  END IF;
  SELECT l.limb_id INTO v_limb FROM lot l WHERE l.group_id = p_group AND l.id = c.lot_id;
  PERFORM refuse_if_held(p_group, c.lot_id, v_limb);
  UPDATE claim SET status = 'handed_over', settled_at = p_now, sticks = p_sticks WHERE group_id = p_group AND id = p_claim;
  PERFORM ledger_move(p_group, p_move, c.lot_id, 'hand_over', 'promised', 'member:' || c.member_id, p_sticks, p_now,
    p_recorded_by, c.member_id, NULL, NULL, p_claim, NULL);
  IF p_sticks < c.sticks THEN
    PERFORM ledger_move(p_group, p_rest_move, c.lot_id, 'release', 'promised', 'store', c.sticks - p_sticks, p_now,
      p_recorded_by, c.member_id, 'not handed over', NULL, p_claim, NULL);
  END IF;
  PERFORM ledger_note(p_group, p_move, c.lot_id, p_recorded_by, c.member_id, p_now, 'hand-over',
    jsonb_build_object('claimId', p_claim, 'sticks', p_sticks, 'promised', c.sticks));
  RETURN QUERY SELECT p_claim, p_sticks, false;
END $$;

/* Takes a hand-over back as if it had not been made: the sticks are promised again. */
CREATE OR REPLACE FUNCTION undo_hand_over(
  p_group uuid, p_claim uuid, p_move uuid, p_recorded_by uuid, p_now timestamptz, p_reason text, p_key uuid, p_hash text)
RETURNS TABLE (claim_id uuid, claim_sticks int, replayed boolean)
LANGUAGE plpgsql SECURITY DEFINER SET search_path = public, pg_temp AS $$
DECLARE c claim; m move;
BEGIN
  IF ledger_seen(p_group, p_key, 'undo-hand-over', p_hash, jsonb_build_object('claimId', p_claim)) THEN
    RETURN QUERY SELECT k.id, k.sticks, true FROM claim k WHERE k.group_id = p_group AND k.id = p_claim;
    RETURN;
  END IF;
  c := ledger_standing_claim(p_group, p_claim, 'handed_over');
  SELECT h.* INTO STRICT m FROM move h
    WHERE h.group_id = p_group AND h.claim_id = p_claim AND h.kind = 'hand_over'
      AND NOT EXISTS (SELECT 1 FROM move r WHERE r.group_id = h.group_id AND r.reverses_id = h.id)
    ORDER BY h.seq DESC LIMIT 1;
  UPDATE claim SET status = 'promised', settled_at = NULL WHERE group_id = p_group AND id = p_claim;
  PERFORM ledger_move(p_group, p_move, c.lot_id, 'reversal', m.to_account, m.from_account, m.sticks, p_now,
    p_recorded_by, c.member_id, p_reason, m.id, p_claim, NULL);
  PERFORM ledger_note(p_group, p_move, c.lot_id, p_recorded_by, c.member_id, p_now, 'undo-hand-over',
    jsonb_build_object('claimId', p_claim, 'sticks', c.sticks, 'reason', p_reason));
  RETURN QUERY SELECT p_claim, c.sticks, false;
END $$;

-- ---- the waiting list ------------------------------------------------------------------------

/* Puts a member at the end of the line for a lot of which no share is free. */
CREATE FUNCTION join_waiting(
  p_group uuid, p_waiting uuid, p_offering uuid, p_member uuid, p_recorded_by uuid, p_shares int, p_purpose text,
  p_now timestamptz, p_key uuid, p_hash text)
RETURNS TABLE (waiting_id uuid, place int, replayed boolean)
LANGUAGE plpgsql SECURITY DEFINER SET search_path = public, pg_temp AS $$
DECLARE v record; v_waiting uuid := p_waiting; v_seen boolean; v_left int;
BEGIN
  v_seen := ledger_seen(p_group, p_key, 'join-waiting-list', p_hash, jsonb_build_object('waitingId', p_waiting));
  IF v_seen THEN
    SELECT (k.answer ->> 'waitingId')::uuid INTO v_waiting FROM idempotency_key k WHERE k.group_id = p_group AND k.key = p_key;
  ELSE
    PERFORM ledger_serve(p_group, p_offering, p_now);
    SELECT o.swap_id, o.lot_id, o.shares, s.status, s.claims_open_at, s.claims_close_at, l.limb_id,
        least(o.shares - o.shares_claimed, coalesce(h.sticks, 0) / o.sticks_per_share) - o.shares_reserved AS free
      INTO v
      FROM offering o
      JOIN swap s ON s.group_id = o.group_id AND s.id = o.swap_id
      JOIN lot l ON l.group_id = o.group_id AND l.id = o.lot_id
      LEFT JOIN holding h ON h.group_id = l.group_id AND h.lot_id = l.id AND h.account = 'store'
      WHERE o.group_id = p_group AND o.id = p_offering AND o.withdrawn_at IS NULL;
    IF NOT FOUND OR NOT EXISTS (
      SELECT FROM member m WHERE m.group_id = p_group AND m.id = p_member AND m.left_on IS NULL)
    THEN
      RAISE EXCEPTION 'No such member, or this lot is not offered' USING ERRCODE = 'TW019';
    END IF;
    IF v.status <> 'open' OR p_now < v.claims_open_at OR p_now >= v.claims_close_at THEN
      PERFORM ledger_refuse_closed(v.status, v.claims_open_at, v.claims_close_at);
    END IF;
    PERFORM refuse_if_held(p_group, v.lot_id, v.limb_id);
    IF EXISTS (SELECT FROM claim c WHERE c.group_id = p_group AND c.offering_id = p_offering
        AND c.member_id = p_member AND c.status = 'promised') THEN
      RAISE EXCEPTION 'Already claimed' USING ERRCODE = 'TW021';
    END IF;
    IF EXISTS (SELECT FROM waiting q WHERE q.group_id = p_group AND q.offering_id = p_offering
        AND q.member_id = p_member AND q.status IN ('waiting', 'offered')) THEN
      RAISE EXCEPTION 'Already in the line' USING ERRCODE = 'TW027';
    END IF;
    IF p_shares < 1 OR p_shares > v.shares THEN
      RAISE EXCEPTION 'This lot has % shares', v.shares
        USING ERRCODE = 'TW011', DETAIL = json_build_object('left', v.shares)::text;
    END IF;
    v_left := v.free;
    IF v_left >= 1 THEN
      RAISE EXCEPTION '% can be claimed', v_left
        USING ERRCODE = 'TW028', DETAIL = json_build_object('left', v_left)::text;
    END IF;
    INSERT INTO waiting (group_id, id, swap_id, offering_id, lot_id, member_id, shares, purpose, recorded_by_id, asked_at)
      VALUES (p_group, p_waiting, v.swap_id, p_offering, v.lot_id, p_member, p_shares, p_purpose, p_recorded_by, p_now);
    PERFORM ledger_note(p_group, p_waiting, v.lot_id, p_recorded_by, p_member, p_now, 'join-waiting-list',
      jsonb_build_object('shares', p_shares));
  END IF;
  RETURN QUERY SELECT q.id, (SELECT count(*)::int FROM waiting a WHERE a.group_id = q.group_id
        AND a.offering_id = q.offering_id AND a.status IN ('waiting', 'offered') AND a.seq <= q.seq), v_seen
    FROM waiting q WHERE q.group_id = p_group AND q.id = v_waiting;
END $$;

/* An open place in the line, held together with its swap, offering and lot. Offers past their time have lapsed. */
CREATE FUNCTION ledger_open_place(p_group uuid, p_waiting uuid, p_now timestamptz) RETURNS waiting LANGUAGE plpgsql AS $$
DECLARE q waiting;
BEGIN
  PERFORM ledger_hold_offering(p_group, a.offering_id) FROM waiting a WHERE a.group_id = p_group AND a.id = p_waiting;
  SELECT * INTO q FROM waiting WHERE group_id = p_group AND id = p_waiting FOR UPDATE;
  IF NOT FOUND THEN RAISE EXCEPTION 'No such place in the line' USING ERRCODE = 'TW019'; END IF;
  IF q.status NOT IN ('waiting', 'offered') OR (q.status = 'offered' AND q.expires_at <= p_now) THEN
    RAISE EXCEPTION 'This place is %', q.status USING ERRCODE = 'TW026',
      DETAIL = json_build_object('status', CASE q.status WHEN 'offered' THEN 'expired' ELSE q.status END,
        'at', coalesce(q.settled_at, q.expires_at))::text;
  END IF;
  RETURN q;
END $$;

/* Takes the shares that were offered to somebody who waited: the claim, within the limits of this moment. */
CREATE FUNCTION accept_waiting(
  p_group uuid, p_waiting uuid, p_claim uuid, p_move uuid, p_recorded_by uuid, p_now timestamptz, p_key uuid, p_hash text)
RETURNS TABLE (claim_id uuid, claim_sticks int, replayed boolean)
LANGUAGE plpgsql SECURITY DEFINER SET search_path = public, pg_temp AS $$
DECLARE q waiting; v record; k record; v_sticks int;
BEGIN
  -- The same form sent twice at once waits here for its first answer.
  PERFORM ledger_hold_offering(p_group, a.offering_id) FROM waiting a WHERE a.group_id = p_group AND a.id = p_waiting;
  SELECT i.command, i.input_hash, i.answer INTO k FROM idempotency_key i WHERE i.group_id = p_group AND i.key = p_key;
  IF FOUND AND ledger_same('accept-offer', p_hash, k.command, k.input_hash) THEN
    RETURN QUERY SELECT c.id, c.sticks, true FROM claim c
      WHERE c.group_id = p_group AND c.id = (k.answer ->> 'claimId')::uuid;
    RETURN;
  END IF;
  q := ledger_open_place(p_group, p_waiting, p_now);
  IF q.status <> 'offered' THEN
    RAISE EXCEPTION 'Nothing is offered yet' USING ERRCODE = 'TW026', DETAIL = json_build_object('status', q.status)::text;
  END IF;
  SELECT o.sticks_per_share, o.withdrawn_at, s.status, s.claims_open_at, s.claims_close_at, s.cap_per_member,
      s.cap_per_variety, l.code, l.limb_id, b.variety_id, coalesce(st.sticks, 0) AS store, p.sticks AS promised,
      EXISTS (SELECT FROM member m WHERE m.group_id = p_group AND m.id = q.member_id AND m.left_on IS NULL) AS is_member
    INTO v
    FROM offering o
    JOIN swap s ON s.group_id = o.group_id AND s.id = o.swap_id
    JOIN lot l ON l.group_id = o.group_id AND l.id = o.lot_id
    JOIN limb b ON b.group_id = l.group_id AND b.id = l.limb_id
    LEFT JOIN holding st ON st.group_id = l.group_id AND st.lot_id = l.id AND st.account = 'store'
    LEFT JOIN holding p ON p.group_id = l.group_id AND p.lot_id = l.id AND p.account = 'promised'
    WHERE o.group_id = p_group AND o.id = q.offering_id;
  -- An offer may be taken up after claims have closed, until it lapses or the swap is over.
  IF v.status <> 'open' OR v.withdrawn_at IS NOT NULL THEN
    PERFORM ledger_refuse_closed(v.status, v.claims_open_at, v.claims_close_at);
  END IF;
  IF NOT v.is_member THEN RAISE EXCEPTION 'No such member' USING ERRCODE = 'TW019'; END IF;
  PERFORM refuse_if_held(p_group, q.lot_id, v.limb_id);
  IF v.variety_id IS NULL THEN
    RAISE EXCEPTION 'Wood that has lost its name is not claimed' USING ERRCODE = 'TW024';
  END IF;
  IF EXISTS (SELECT FROM claim c WHERE c.group_id = p_group AND c.offering_id = q.offering_id
      AND c.member_id = q.member_id AND c.status = 'promised') THEN
    RAISE EXCEPTION 'Already claimed' USING ERRCODE = 'TW021';
  END IF;
  v_sticks := q.offered_shares * v.sticks_per_share;
  IF v.store < v_sticks THEN
    RAISE EXCEPTION 'Only % left in the store', v.store
      USING ERRCODE = 'TW010', DETAIL = json_build_object('left', v.store, 'account', 'store')::text;
  END IF;
  IF v.promised IS NULL THEN
    INSERT INTO holding (group_id, lot_id, account) VALUES (p_group, q.lot_id, 'promised') ON CONFLICT DO NOTHING;
  END IF;
  PERFORM ledger_promise(p_group, p_claim, p_move, q.offering_id, q.swap_id, q.lot_id, v.code, v.variety_id, q.member_id,
    p_recorded_by, q.offered_shares, v_sticks, v.store, coalesce(v.promised, 0), q.offered_shares, q.purpose, p_now,
    v.cap_per_member, v.cap_per_variety, 'accept-offer', p_key, p_hash, jsonb_build_object('claimId', p_claim));
  UPDATE waiting w SET status = 'accepted', settled_at = p_now, claim_id = p_claim WHERE w.group_id = p_group AND w.id = p_waiting;
  RETURN QUERY SELECT p_claim, v_sticks, false;
END $$;

/* Leaves the line, or declines what was offered; the next in line is asked at once. */
CREATE FUNCTION leave_waiting(
  p_group uuid, p_waiting uuid, p_note uuid, p_recorded_by uuid, p_now timestamptz, p_key uuid, p_hash text)
RETURNS TABLE (waiting_id uuid, was_offered boolean, replayed boolean)
LANGUAGE plpgsql SECURITY DEFINER SET search_path = public, pg_temp AS $$
DECLARE q waiting;
BEGIN
  IF ledger_seen(p_group, p_key, 'leave-waiting-list', p_hash, jsonb_build_object('waitingId', p_waiting)) THEN
    RETURN QUERY SELECT w.id, w.offered_at IS NOT NULL, true FROM waiting w WHERE w.group_id = p_group AND w.id = p_waiting;
    RETURN;
  END IF;
  q := ledger_open_place(p_group, p_waiting, p_now);
  UPDATE waiting SET status = CASE q.status WHEN 'offered' THEN 'declined' ELSE 'left' END::waiting_status, settled_at = p_now
    WHERE group_id = p_group AND id = p_waiting;
  UPDATE offering SET shares_reserved = shares_reserved - coalesce(q.offered_shares, 0)
    WHERE group_id = p_group AND id = q.offering_id AND q.status = 'offered';
  PERFORM ledger_note(p_group, p_note, q.lot_id, p_recorded_by, q.member_id, p_now,
    CASE q.status WHEN 'offered' THEN 'decline-offer' ELSE 'leave-waiting-list' END, jsonb_build_object('shares', q.shares));
  PERFORM ledger_serve(p_group, q.offering_id, p_now);
  RETURN QUERY SELECT p_waiting, q.status = 'offered', false;
END $$;

/* Asks those who wait, for one lot of a swap or for all of them, in one order of locks. Answers the offers made. */
CREATE FUNCTION serve_waiting(p_group uuid, p_swap uuid, p_offering uuid, p_now timestamptz)
RETURNS int LANGUAGE plpgsql SECURITY DEFINER SET search_path = public, pg_temp AS $$
DECLARE v_offering uuid; v_made int := 0;
BEGIN
  FOR v_offering IN
    SELECT DISTINCT q.offering_id FROM waiting q
      WHERE q.group_id = p_group AND q.swap_id = p_swap AND q.status IN ('waiting', 'offered')
        AND (p_offering IS NULL OR q.offering_id = p_offering)
      ORDER BY q.offering_id
  LOOP
    v_made := v_made + ledger_serve(p_group, v_offering, p_now);
  END LOOP;
  RETURN v_made;
END $$;

-- ---- sticks that nobody fetched ----------------------------------------------------------------

CREATE FUNCTION ledger_release_no_shows(p_group uuid, p_swap uuid, p_by uuid, p_now timestamptz)
RETURNS jsonb LANGUAGE plpgsql AS $$
DECLARE v record; c claim; v_claims int := 0; v_sticks int := 0; v_id uuid;
BEGIN
  SELECT s.status, s.no_show_at, s.claims_open_at, s.claims_close_at INTO v
    FROM swap s WHERE s.group_id = p_group AND s.id = p_swap FOR NO KEY UPDATE;
  IF NOT FOUND THEN RAISE EXCEPTION 'No such swap' USING ERRCODE = 'TW019'; END IF;
  IF v.status <> 'open' THEN PERFORM ledger_refuse_closed(v.status, v.claims_open_at, v.claims_close_at); END IF;
  IF v.no_show_at IS NULL OR p_now < v.no_show_at THEN
    RAISE EXCEPTION 'Their time is not over' USING ERRCODE = 'TW025', DETAIL = json_build_object('at', v.no_show_at)::text;
  END IF;
  FOR v_id IN
    SELECT k.id FROM claim k WHERE k.group_id = p_group AND k.swap_id = p_swap AND k.status = 'promised'
      ORDER BY k.offering_id, k.id
  LOOP
    c := ledger_standing_claim(p_group, v_id, 'promised');
    PERFORM ledger_let_go(p_group, c, gen_random_uuid(), p_by, p_now, 'not fetched in time', 'release-no-show');
    v_claims := v_claims + 1;
    v_sticks := v_sticks + c.sticks;
  END LOOP;
  UPDATE swap SET no_shows_released_at = p_now WHERE group_id = p_group AND id = p_swap;
  PERFORM serve_waiting(p_group, p_swap, NULL, p_now);
  RETURN jsonb_build_object('claims', v_claims, 'sticks', v_sticks);
END $$;

/* After the stated time: sticks that are still promised go back to their stores, and on to whoever waits. */
CREATE FUNCTION release_no_shows(p_group uuid, p_swap uuid, p_recorded_by uuid, p_now timestamptz, p_key uuid, p_hash text)
RETURNS TABLE (claims int, sticks int, replayed boolean)
LANGUAGE plpgsql SECURITY DEFINER SET search_path = public, pg_temp AS $$
DECLARE k record; v_answer jsonb;
BEGIN
  PERFORM 1 FROM swap s WHERE s.group_id = p_group AND s.id = p_swap FOR NO KEY UPDATE;
  SELECT i.command, i.input_hash, i.answer INTO k FROM idempotency_key i WHERE i.group_id = p_group AND i.key = p_key;
  IF FOUND AND ledger_same('release-no-shows', p_hash, k.command, k.input_hash) THEN
    RETURN QUERY SELECT (k.answer ->> 'claims')::int, (k.answer ->> 'sticks')::int, true;
    RETURN;
  END IF;
  v_answer := ledger_release_no_shows(p_group, p_swap, p_recorded_by, p_now);
  INSERT INTO idempotency_key (group_id, key, command, input_hash, answer)
    VALUES (p_group, p_key, 'release-no-shows', p_hash, v_answer);
  RETURN QUERY SELECT (v_answer ->> 'claims')::int, (v_answer ->> 'sticks')::int, false;
END $$;

/*
 * What is due at a moment in all groups: offers that were not answered lapse and the next are asked, and swaps whose
 * stated time is over take back what nobody fetched, once, in the name of whoever planned the swap. Harmless to call
 * at any time and by several servers: one does it, the others answer nothing.
 */
CREATE FUNCTION release_due(p_now timestamptz) RETURNS TABLE (offers int, no_shows int)
LANGUAGE plpgsql SECURITY DEFINER SET search_path = public, pg_temp AS $$
DECLARE s record; v_offers int := 0; v_no_shows int := 0;
BEGIN
  IF pg_try_advisory_xact_lock(hashtextextended('release_due', 0)) THEN
    FOR s IN
      SELECT w.group_id, w.id, w.created_by_id,
          w.status = 'open' AND w.no_show_at <= p_now AND w.no_shows_released_at IS NULL AS is_over
        FROM swap w
        WHERE (w.status = 'open' AND w.no_show_at <= p_now AND w.no_shows_released_at IS NULL)
          OR EXISTS (SELECT FROM waiting q WHERE q.group_id = w.group_id AND q.swap_id = w.id
            AND q.status IN ('waiting', 'offered'))
        ORDER BY w.group_id, w.id
    LOOP
      IF s.is_over THEN
        v_no_shows := v_no_shows
          + (ledger_release_no_shows(s.group_id, s.id, s.created_by_id, p_now) ->> 'claims')::int;
      END IF;
      v_offers := v_offers + serve_waiting(s.group_id, s.id, NULL, p_now);
    END LOOP;
  END IF;
  RETURN QUERY SELECT v_offers, v_no_shows;
END $$;

-- ---- other moves ---------------------------------------------------------------------------------

CREATE OR REPLACE FUNCTION move_sticks(
  p_group uuid, p_id uuid, p_lot uuid, p_kind move_kind, p_from text, p_to text, p_sticks int,
  p_happened_at timestamptz, p_recorded_by uuid, p_on_behalf_of uuid, p_reason text, p_attempt uuid)
RETURNS int LANGUAGE plpgsql SECURITY DEFINER SET search_path = public, pg_temp AS $$
DECLARE v_limb uuid;
BEGIN
  IF p_kind IN ('promise', 'release', 'hand_over', 'reversal', 'split') THEN
    RAISE EXCEPTION 'A % goes through its own function', p_kind USING ERRCODE = 'TW022';
  END IF;
  IF p_kind IN ('walk_up', 'post') THEN
    -- Two statements: the look for a hold must come after the wait for whoever is placing one.
    SELECT l.limb_id INTO v_limb FROM lot l WHERE l.group_id = p_group AND l.id = p_lot FOR NO KEY UPDATE;
    PERFORM refuse_if_held(p_group, p_lot, v_limb);
  END IF;
  RETURN ledger_move(p_group, p_id, p_lot, p_kind, p_from, p_to, p_sticks, p_happened_at, p_recorded_by,
    p_on_behalf_of, p_reason, NULL, NULL, p_attempt);
END $$;

CREATE OR REPLACE FUNCTION reverse_move(
  p_group uuid, p_id uuid, p_move uuid, p_recorded_by uuid, p_happened_at timestamptz, p_reason text)
RETURNS int LANGUAGE plpgsql SECURITY DEFINER SET search_path = public, pg_temp AS $$
DECLARE m move;
BEGIN
  SELECT * INTO m FROM move WHERE group_id = p_group AND id = p_move;
  IF NOT FOUND THEN RAISE EXCEPTION 'No such move' USING ERRCODE = 'TW019'; END IF;
  IF m.kind IN ('reversal', 'split') OR m.claim_id IS NOT NULL THEN
    RAISE EXCEPTION 'This move is not corrected here' USING ERRCODE = 'TW022';
  END IF;
  RETURN ledger_move(p_group, p_id, m.lot_id, 'reversal', m.to_account, m.from_account, m.sticks, p_happened_at,
    p_recorded_by, m.on_behalf_of_id, p_reason, m.id, NULL, m.attempt_id);
END $$;

/*
 * Makes a part of a lot a lot of its own, in another store: same limb, session and cut day, the stays up to now, and
 * as many sticks on the one side as leave the other. The new code has been issued before.
 */
CREATE FUNCTION split_lot(
  p_group uuid, p_lot uuid, p_new_lot uuid, p_code text, p_store uuid, p_stint uuid, p_sticks int, p_at timestamptz,
  p_recorded_by uuid, p_move uuid, p_new_move uuid, p_reason text)
RETURNS int LANGUAGE plpgsql SECURITY DEFINER SET search_path = public, pg_temp AS $$
DECLARE l lot; v_left int; v_kept int;
BEGIN
  SELECT * INTO l FROM lot WHERE group_id = p_group AND id = p_lot FOR NO KEY UPDATE;
  IF NOT FOUND THEN RAISE EXCEPTION 'No such lot' USING ERRCODE = 'TW019'; END IF;
  PERFORM refuse_if_held(p_group, p_lot, l.limb_id);
  -- What is kept for people who were offered shares stays with the lot they were offered of.
  SELECT coalesce(sum(o.shares_reserved * o.sticks_per_share), 0) INTO v_kept
    FROM offering o WHERE o.group_id = p_group AND o.lot_id = p_lot AND o.withdrawn_at IS NULL;
  SELECT h.sticks - v_kept INTO v_left FROM holding h WHERE h.group_id = p_group AND h.lot_id = p_lot AND h.account = 'store';
  IF coalesce(v_left, 0) < p_sticks THEN
    RAISE EXCEPTION 'Only % left', v_left USING ERRCODE = 'TW010',
      DETAIL = json_build_object('left', greatest(coalesce(v_left, 0), 0), 'account', 'store')::text;
  END IF;
  INSERT INTO lot (group_id, id, code, limb_id, session_id, cut_on, kind, diameter, bud_stage, packaging, note, split_from_id)
    VALUES (p_group, p_new_lot, p_code, l.limb_id, l.session_id, l.cut_on, l.kind, l.diameter, l.bud_stage, l.packaging,
      l.note, p_lot);
  v_left := ledger_move(p_group, p_move, p_lot, 'split', 'store', 'cut', p_sticks, p_at, p_recorded_by, NULL, p_reason);
  PERFORM ledger_move(p_group, p_new_move, p_new_lot, 'split', 'cut', 'store', p_sticks, p_at, p_recorded_by, NULL, p_reason);
  INSERT INTO stint (group_id, id, lot_id, store_id, began_at, ended_at)
    SELECT p_group, gen_random_uuid(), p_new_lot, i.store_id, i.began_at, least(coalesce(i.ended_at, p_at), p_at)
      FROM stint i WHERE i.group_id = p_group AND i.lot_id = p_lot AND i.began_at < p_at;
  INSERT INTO stint (group_id, id, lot_id, store_id, began_at) VALUES (p_group, p_stint, p_new_lot, p_store, p_at);
  RETURN v_left;
END $$;

-- ---- what must be true, always: a row here is a fault -------------------------------------------

CREATE OR REPLACE VIEW ledger_fault AS
  WITH summed AS (
    SELECT group_id, lot_id, account, sum(sticks)::int AS sticks FROM (
      SELECT group_id, lot_id, to_account AS account, sticks FROM move
      UNION ALL
      SELECT group_id, lot_id, from_account, -sticks FROM move) AS leg
    GROUP BY group_id, lot_id, account)
  SELECT coalesce(h.group_id, s.group_id) AS group_id, 'holding differs from its moves' AS fault,
      coalesce(h.lot_id, s.lot_id)::text AS subject,
      format('%s: holding %s, moves %s', coalesce(h.account, s.account), h.sticks, s.sticks) AS detail
    FROM holding h FULL JOIN summed s USING (group_id, lot_id, account)
    WHERE coalesce(h.sticks, 0) <> coalesce(s.sticks, 0)
  UNION ALL
  SELECT group_id, 'sticks of a lot do not add up', lot_id::text, format('sum %s', sum(sticks))
    FROM holding GROUP BY group_id, lot_id HAVING sum(sticks) <> 0
  UNION ALL
  SELECT l.group_id, 'promised sticks differ from standing claims', l.id::text,
      format('promised %s, claims %s', coalesce(h.sticks, 0), coalesce(c.sticks, 0))
    FROM lot l
    LEFT JOIN holding h ON h.group_id = l.group_id AND h.lot_id = l.id AND h.account = 'promised'
    LEFT JOIN (SELECT group_id, lot_id, sum(sticks)::int AS sticks FROM claim WHERE status = 'promised' GROUP BY 1, 2) c
      ON c.group_id = l.group_id AND c.lot_id = l.id
    WHERE coalesce(h.sticks, 0) <> coalesce(c.sticks, 0)
  UNION ALL
  SELECT o.group_id, 'claimed shares differ from claims', o.id::text,
      format('offering %s, claims %s', o.shares_claimed, coalesce(c.shares, 0))
    FROM offering o
    LEFT JOIN (SELECT group_id, offering_id, sum(shares)::int AS shares FROM claim WHERE status <> 'cancelled' GROUP BY 1, 2) c
      ON c.group_id = o.group_id AND c.offering_id = o.id
    WHERE o.shares_claimed <> coalesce(c.shares, 0)
  UNION ALL
  SELECT t.group_id, 'takings differ from claims', t.member_id::text || ' ' || t.scope,
      format('taking %s, claims %s', t.shares, coalesce(c.shares, 0))
    FROM taking t
    LEFT JOIN (
      SELECT k.group_id, k.swap_id, k.member_id, scope, sum(k.shares)::int AS shares
        FROM claim k
        CROSS JOIN LATERAL unnest(ARRAY['swap', k.variety_id::text]) AS scope
        WHERE k.status <> 'cancelled' GROUP BY 1, 2, 3, 4) c
      ON (c.group_id, c.swap_id, c.member_id, c.scope) = (t.group_id, t.swap_id, t.member_id, t.scope)
    WHERE t.shares <> coalesce(c.shares, 0)
  UNION ALL
  SELECT a.group_id, 'used sticks differ from the attempt', a.id::text,
      format('attempt %s, moves %s', CASE WHEN a.withdrawn_at IS NULL THEN a.sticks_used ELSE 0 END, coalesce(m.sticks, 0))
    FROM attempt a
    LEFT JOIN (SELECT group_id, attempt_id, sum(CASE WHEN kind = 'reversal' THEN -sticks ELSE sticks END)::int AS sticks
        FROM move WHERE attempt_id IS NOT NULL GROUP BY 1, 2) m ON m.group_id = a.group_id AND m.attempt_id = a.id
    WHERE CASE WHEN a.withdrawn_at IS NULL THEN a.sticks_used ELSE 0 END <> coalesce(m.sticks, 0)
  UNION ALL
  SELECT o.group_id, 'reserved shares differ from offers', o.id::text,
      format('offering %s, offers %s', o.shares_reserved, coalesce(q.shares, 0))
    FROM offering o
    LEFT JOIN (SELECT group_id, offering_id, sum(offered_shares)::int AS shares FROM waiting WHERE status = 'offered' GROUP BY 1, 2) q
      ON q.group_id = o.group_id AND q.offering_id = o.id
    WHERE o.shares_reserved <> coalesce(q.shares, 0)
  UNION ALL
  SELECT q.group_id, 'accepted offer differs from its claim', q.id::text,
      format('offered %s to %s, claimed for %s', q.offered_shares, q.member_id, c.member_id)
    FROM waiting q JOIN claim c ON c.group_id = q.group_id AND c.id = q.claim_id
    WHERE (c.member_id, c.offering_id) IS DISTINCT FROM (q.member_id, q.offering_id)
  UNION ALL
  SELECT q.group_id, 'somebody waits for a swap that is over', q.id::text, ''
    FROM waiting q
    JOIN offering o ON o.group_id = q.group_id AND o.id = q.offering_id
    JOIN swap s ON s.group_id = q.group_id AND s.id = q.swap_id
    WHERE q.status IN ('waiting', 'offered') AND (s.status = 'finished' OR o.withdrawn_at IS NOT NULL)
  UNION ALL
  SELECT p.group_id, 'sticks split off differ from the new lots', p.lot_id::text,
      format('gone on %s, arrived %s', p.gone, p.came)
    FROM (
      SELECT group_id, lot_id, sum(gone)::int AS gone, sum(came)::int AS came FROM (
        SELECT m.group_id, m.lot_id, CASE m.to_account WHEN 'cut' THEN m.sticks ELSE 0 END AS gone, 0 AS came
          FROM move m WHERE m.kind::text = 'split' AND m.to_account = 'cut'
        UNION ALL
        SELECT m.group_id, coalesce(l.split_from_id, l.id), 0, m.sticks
          FROM move m JOIN lot l ON l.group_id = m.group_id AND l.id = m.lot_id
          WHERE m.kind::text = 'split' AND m.from_account = 'cut') AS leg
        GROUP BY group_id, lot_id) p
    WHERE p.gone <> p.came;

-- ---- what the application may do -----------------------------------------------------------------

REVOKE ALL ON FUNCTION ledger_move, ledger_note, ledger_hold_offering, ledger_serve, ledger_promise, ledger_within,
  ledger_refuse_closed, ledger_same, ledger_standing_claim, ledger_let_go, ledger_open_place, ledger_release_no_shows,
  change_claim, join_waiting, accept_waiting, leave_waiting, serve_waiting, release_no_shows, release_due, split_lot
  FROM PUBLIC;
GRANT EXECUTE ON FUNCTION change_claim, join_waiting, accept_waiting, leave_waiting, serve_waiting, release_no_shows,
  release_due, split_lot TO tallywood_app;
DROP FUNCTION ledger_take;

-- Every look is by key: a plan made while the tables were empty must not read them through later, and planning anew
-- would cost more than the work.
DO $$
DECLARE f text;
BEGIN
  FOREACH f IN ARRAY ARRAY['claim_shares', 'cancel_claim', 'change_claim', 'hand_over_claim', 'undo_hand_over',
    'join_waiting', 'accept_waiting', 'leave_waiting', 'serve_waiting', 'release_no_shows', 'release_due']
  LOOP
    EXECUTE format('ALTER FUNCTION %I SET plan_cache_mode = force_generic_plan', f);
    EXECUTE format('ALTER FUNCTION %I SET enable_seqscan = off', f);
  END LOOP;
END $$;

GRANT SELECT ON waiting TO tallywood_app;
GRANT UPDATE (told_at) ON waiting TO tallywood_app;
GRANT USAGE ON SEQUENCE waiting_seq_seq TO tallywood_app;
