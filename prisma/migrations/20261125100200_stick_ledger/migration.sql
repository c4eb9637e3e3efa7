-- The stick ledger: the only code that writes moves, holdings, claims and takings. The functions run
-- with their owner's rights; the application's role may call them and may only read the tables.
-- Locks are taken in one order everywhere: swap, claim, offering, lot, takings, holdings by account.

CREATE FUNCTION ledger_move(
  p_group uuid, p_id uuid, p_lot uuid, p_kind move_kind, p_from text, p_to text, p_sticks int,
  p_happened_at timestamptz, p_recorded_by uuid, p_on_behalf_of uuid DEFAULT NULL, p_reason text DEFAULT NULL,
  p_reverses uuid DEFAULT NULL, p_claim uuid DEFAULT NULL, p_attempt uuid DEFAULT NULL)
RETURNS int LANGUAGE plpgsql AS $$
DECLARE v_from int; v_to int;
BEGIN
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

-- One key, one effect. True when the key was seen before with the same input.
CREATE FUNCTION ledger_seen(p_group uuid, p_key uuid, p_command text, p_hash text, p_answer jsonb)
RETURNS boolean LANGUAGE plpgsql AS $$
DECLARE v_hash text; v_command text;
BEGIN
  INSERT INTO idempotency_key (group_id, key, command, input_hash, answer)
    VALUES (p_group, p_key, p_command, p_hash, p_answer) ON CONFLICT DO NOTHING;
  IF FOUND THEN RETURN false; END IF;
  SELECT input_hash, command INTO v_hash, v_command FROM idempotency_key WHERE group_id = p_group AND key = p_key;
  IF v_hash <> p_hash OR v_command <> p_command THEN
    RAISE EXCEPTION 'This form was already sent with other entries' USING ERRCODE = 'TW018';
  END IF;
  RETURN true;
END $$;

/* Moves that do not belong to a claim. Returns what is left on the account the sticks came from. */
CREATE FUNCTION move_sticks(
  p_group uuid, p_id uuid, p_lot uuid, p_kind move_kind, p_from text, p_to text, p_sticks int,
  p_happened_at timestamptz, p_recorded_by uuid, p_on_behalf_of uuid, p_reason text, p_attempt uuid)
RETURNS int LANGUAGE plpgsql SECURITY DEFINER SET search_path = public, pg_temp AS $$
DECLARE v_limb uuid;
BEGIN
  IF p_kind IN ('promise', 'release', 'hand_over', 'reversal') THEN
    RAISE EXCEPTION 'A % goes through its own function', p_kind USING ERRCODE = 'TW022';
  END IF;
  IF p_kind IN ('walk_up', 'post') THEN
    -- Two statements: the look for a hold must come after the wait for whoever is placing one.
    SELECT l.limb_id INTO v_limb FROM lot l WHERE l.group_id = p_group AND l.id = p_lot FOR SHARE;
    PERFORM refuse_if_held(p_group, p_lot, v_limb);
  END IF;
  RETURN ledger_move(p_group, p_id, p_lot, p_kind, p_from, p_to, p_sticks, p_happened_at, p_recorded_by,
    p_on_behalf_of, p_reason, NULL, NULL, p_attempt);
END $$;

/* Corrects one move by its mirror image, once. Moves of a claim are corrected through the claim. */
CREATE FUNCTION reverse_move(
  p_group uuid, p_id uuid, p_move uuid, p_recorded_by uuid, p_happened_at timestamptz, p_reason text)
RETURNS int LANGUAGE plpgsql SECURITY DEFINER SET search_path = public, pg_temp AS $$
DECLARE m move;
BEGIN
  SELECT * INTO m FROM move WHERE group_id = p_group AND id = p_move;
  IF NOT FOUND THEN RAISE EXCEPTION 'No such move' USING ERRCODE = 'TW019'; END IF;
  IF m.kind = 'reversal' OR m.claim_id IS NOT NULL THEN
    RAISE EXCEPTION 'This move is not corrected here' USING ERRCODE = 'TW022';
  END IF;
  RETURN ledger_move(p_group, p_id, m.lot_id, 'reversal', m.to_account, m.from_account, m.sticks, p_happened_at,
    p_recorded_by, m.on_behalf_of_id, p_reason, m.id, NULL, m.attempt_id);
END $$;

CREATE FUNCTION ledger_take(p_group uuid, p_swap uuid, p_member uuid, p_scope text, p_shares int, p_cap int, p_state text)
RETURNS void LANGUAGE plpgsql AS $$
DECLARE v_held int;
BEGIN
  INSERT INTO taking (group_id, swap_id, member_id, scope, shares) VALUES (p_group, p_swap, p_member, p_scope, p_shares)
    ON CONFLICT (group_id, swap_id, member_id, scope) DO UPDATE SET shares = taking.shares + excluded.shares
    RETURNING shares INTO v_held;
  IF v_held > p_cap THEN
    RAISE EXCEPTION 'The limit is %', p_cap
      USING ERRCODE = p_state, DETAIL = json_build_object('cap', p_cap, 'held', v_held - p_shares)::text;
  END IF;
END $$;

/*
 * Promises shares of an offering to a member, in one round trip: the right to claim, the limits, the count
 * and the ledger entry. The same key with the same input answers the same again and changes nothing.
 */
CREATE FUNCTION claim_shares(
  p_group uuid, p_claim uuid, p_move uuid, p_offering uuid, p_member uuid, p_recorded_by uuid, p_shares int,
  p_purpose text, p_now timestamptz, p_key uuid, p_hash text)
RETURNS TABLE (claim_id uuid, claim_sticks int, shares_left int, replayed boolean)
LANGUAGE plpgsql SECURITY DEFINER SET search_path = public, pg_temp AS $$
DECLARE v record; v_sticks int;
BEGIN
  IF ledger_seen(p_group, p_key, 'claim', p_hash, jsonb_build_object('claimId', p_claim)) THEN
    RETURN QUERY SELECT c.id, c.sticks, o.shares - o.shares_claimed, true
      FROM idempotency_key k
      JOIN claim c ON c.group_id = k.group_id AND c.id = (k.answer ->> 'claimId')::uuid
      JOIN offering o ON o.group_id = c.group_id AND o.id = c.offering_id
      WHERE k.group_id = p_group AND k.key = p_key;
    RETURN;
  END IF;
  IF p_shares < 1 THEN RAISE EXCEPTION 'A claim is for at least one share' USING ERRCODE = 'TW022'; END IF;
  IF NOT EXISTS (SELECT 1 FROM member m WHERE m.group_id = p_group AND m.id = p_member AND m.left_on IS NULL) THEN
    RAISE EXCEPTION 'No such member' USING ERRCODE = 'TW019';
  END IF;
  -- The swap first: whoever finishes it waits for this claim, or this claim finds it finished.
  PERFORM 1 FROM swap s WHERE s.group_id = p_group
    AND s.id = (SELECT o.swap_id FROM offering o WHERE o.group_id = p_group AND o.id = p_offering) FOR SHARE;
  SELECT o.id, o.swap_id, o.lot_id, o.shares, o.shares_claimed, o.sticks_per_share, o.withdrawn_at,
      s.status, s.claims_open_at, s.claims_close_at, s.cap_per_member, s.cap_per_variety, b.variety_id, b.id AS limb_id
    INTO v
    FROM offering o
    JOIN swap s ON s.group_id = o.group_id AND s.id = o.swap_id
    JOIN lot l ON l.group_id = o.group_id AND l.id = o.lot_id
    JOIN limb b ON b.group_id = l.group_id AND b.id = l.limb_id
    WHERE o.group_id = p_group AND o.id = p_offering
    FOR UPDATE OF o FOR SHARE OF l;
  IF NOT FOUND OR v.withdrawn_at IS NOT NULL THEN
    RAISE EXCEPTION 'This lot is not offered' USING ERRCODE = 'TW019';
  END IF;
  IF v.status <> 'open' OR p_now < v.claims_open_at OR p_now >= v.claims_close_at THEN
    RAISE EXCEPTION 'Claims are not open' USING ERRCODE = 'TW014',
      DETAIL = json_build_object('opensAt', v.claims_open_at, 'closesAt', v.claims_close_at, 'status', v.status)::text;
  END IF;
  PERFORM refuse_if_held(p_group, v.lot_id, v.limb_id);
  IF v.variety_id IS NULL THEN
    RAISE EXCEPTION 'Wood that has lost its name is not claimed' USING ERRCODE = 'TW024';
  END IF;
  IF EXISTS (SELECT 1 FROM claim c WHERE c.group_id = p_group AND c.offering_id = p_offering
      AND c.member_id = p_member AND c.status = 'promised') THEN
    RAISE EXCEPTION 'Already claimed' USING ERRCODE = 'TW021';
  END IF;
  IF v.shares - v.shares_claimed < p_shares THEN
    RAISE EXCEPTION 'Only % left', v.shares - v.shares_claimed
      USING ERRCODE = 'TW011', DETAIL = json_build_object('left', v.shares - v.shares_claimed)::text;
  END IF;
  PERFORM ledger_take(p_group, v.swap_id, p_member, 'swap', p_shares, v.cap_per_member, 'TW012');
  PERFORM ledger_take(p_group, v.swap_id, p_member, v.variety_id::text, p_shares, v.cap_per_variety, 'TW013');
  v_sticks := p_shares * v.sticks_per_share;
  UPDATE offering SET shares_claimed = shares_claimed + p_shares WHERE group_id = p_group AND id = p_offering;
  INSERT INTO claim (group_id, id, swap_id, offering_id, lot_id, member_id, variety_id, shares, sticks, purpose, recorded_by_id, made_at)
    VALUES (p_group, p_claim, v.swap_id, p_offering, v.lot_id, p_member, v.variety_id, p_shares, v_sticks, p_purpose, p_recorded_by, p_now);
  PERFORM ledger_move(p_group, p_move, v.lot_id, 'promise', 'store', 'promised', v_sticks, p_now, p_recorded_by,
    CASE WHEN p_member <> p_recorded_by THEN p_member END, NULL, NULL, p_claim, NULL);
  RETURN QUERY SELECT p_claim, v_sticks, (v.shares - v.shares_claimed - p_shares)::int, false;
END $$;

CREATE FUNCTION ledger_standing_claim(p_group uuid, p_claim uuid, p_wanted claim_status)
RETURNS claim LANGUAGE plpgsql AS $$
DECLARE c claim;
BEGIN
  SELECT * INTO c FROM claim WHERE group_id = p_group AND id = p_claim FOR UPDATE;
  IF NOT FOUND THEN RAISE EXCEPTION 'No such claim' USING ERRCODE = 'TW019'; END IF;
  IF c.status <> p_wanted THEN
    RAISE EXCEPTION 'This claim is %', c.status
      USING ERRCODE = 'TW022', DETAIL = json_build_object('status', c.status, 'settledAt', c.settled_at)::text;
  END IF;
  RETURN c;
END $$;

CREATE FUNCTION ledger_give_back_shares(p_group uuid, c claim)
RETURNS void LANGUAGE plpgsql AS $$
BEGIN
  UPDATE offering SET shares_claimed = shares_claimed - c.shares WHERE group_id = p_group AND id = c.offering_id;
  UPDATE taking SET shares = shares - c.shares
    WHERE group_id = p_group AND swap_id = c.swap_id AND member_id = c.member_id AND scope = 'swap';
  UPDATE taking SET shares = shares - c.shares
    WHERE group_id = p_group AND swap_id = c.swap_id AND member_id = c.member_id AND scope = c.variety_id::text;
END $$;

/* Gives a promised claim back: its sticks return to the store, its shares to the table. */
CREATE FUNCTION cancel_claim(
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
  PERFORM ledger_give_back_shares(p_group, c);
  UPDATE claim SET status = 'cancelled', settled_at = p_now WHERE group_id = p_group AND id = p_claim;
  PERFORM ledger_move(p_group, p_move, c.lot_id, 'release', 'promised', 'store', c.sticks, p_now, p_recorded_by,
    CASE WHEN c.member_id <> p_recorded_by THEN c.member_id END, p_reason, NULL, p_claim, NULL);
  RETURN QUERY SELECT p_claim, c.sticks, false;
END $$;

/* Hands promised sticks to the person; what is not handed over goes back to the store. */
CREATE FUNCTION hand_over_claim(
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
  SELECT l.limb_id INTO v_limb FROM lot l WHERE l.group_id = p_group AND l.id = c.lot_id FOR SHARE;
  PERFORM refuse_if_held(p_group, c.lot_id, v_limb);
  UPDATE claim SET status = 'handed_over', settled_at = p_now, sticks = p_sticks WHERE group_id = p_group AND id = p_claim;
  PERFORM ledger_move(p_group, p_move, c.lot_id, 'hand_over', 'promised', 'member:' || c.member_id, p_sticks, p_now,
    p_recorded_by, c.member_id, NULL, NULL, p_claim, NULL);
  IF p_sticks < c.sticks THEN
    PERFORM ledger_move(p_group, p_rest_move, c.lot_id, 'release', 'promised', 'store', c.sticks - p_sticks, p_now,
      p_recorded_by, c.member_id, 'not handed over', NULL, p_claim, NULL);
  END IF;
  RETURN QUERY SELECT p_claim, p_sticks, false;
END $$;

/* Takes a hand-over back as if it had not been made: the sticks are promised again. */
CREATE FUNCTION undo_hand_over(
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
  RETURN QUERY SELECT p_claim, c.sticks, false;
END $$;

-- ---- what must be true of the whole ledger, always: a row here is a fault --------------------

CREATE VIEW ledger_fault AS
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
    WHERE CASE WHEN a.withdrawn_at IS NULL THEN a.sticks_used ELSE 0 END <> coalesce(m.sticks, 0);

-- ---- what the application may do -----------------------------------------------------------

REVOKE ALL ON FUNCTION ledger_move, ledger_seen, ledger_take, ledger_standing_claim, ledger_give_back_shares,
  move_sticks, reverse_move, claim_shares, cancel_claim, hand_over_claim, undo_hand_over, refuse_if_held FROM PUBLIC;
GRANT EXECUTE ON FUNCTION move_sticks, reverse_move, claim_shares, cancel_claim, hand_over_claim, undo_hand_over
  TO tallywood_app;

GRANT SELECT ON ALL TABLES IN SCHEMA public TO tallywood_app;
REVOKE ALL ON _prisma_migrations FROM tallywood_app;
GRANT INSERT ON login, sign_in_token, sign_in_attempt, outbox_mail, orchard_group, member, invitation, audit_entry,
  idempotency_key, taxon, variety, variety_synonym, issued_code, tree, limb, store, reading, cutting_session, lot, stint,
  health_hold, swap, offering, attempt, outcome_check, check_cause TO tallywood_app;
GRANT UPDATE ON login, sign_in_token, outbox_mail, orchard_group, member, invitation, taxon, variety, variety_synonym,
  tree, limb, store, cutting_session, lot, stint, swap, attempt TO tallywood_app;
GRANT DELETE ON sign_in_token, sign_in_attempt, outbox_mail, variety_synonym TO tallywood_app;
GRANT UPDATE (released_by_id, released_at, release_reason) ON health_hold TO tallywood_app;
GRANT UPDATE (shares, sticks_per_share, note, override_reason, withdrawn_at) ON offering TO tallywood_app;
GRANT USAGE ON ALL SEQUENCES IN SCHEMA public TO tallywood_app;
