-- What `ledger_fault` does not ask: whether each entry says what was there after it, whether everything that points
-- somewhere points at something, and whether wood comes from other wood. Both views are empty while all is well.

CREATE VIEW entry_fault AS
  WITH leg AS (
    SELECT group_id, lot_id, seq, from_account AS account, -sticks AS change, from_after AS said FROM move
    UNION ALL
    SELECT group_id, lot_id, seq, to_account, sticks, to_after FROM move),
  running AS (
    SELECT group_id, lot_id, seq, account, said,
        sum(change) OVER (PARTITION BY group_id, lot_id, account ORDER BY seq)::int AS stood
      FROM leg)
  SELECT group_id, 'running balance differs from its moves' AS fault, lot_id::text AS subject,
      format('%s: entry %s says %s, moves %s', account, seq, said, stood) AS detail
    FROM running WHERE said <> stood
  UNION ALL
  SELECT r.group_id, 'correction is no mirror image', r.lot_id::text,
      format('entry %s: %s %s to %s corrects %s %s to %s', r.seq, r.sticks, r.from_account, r.to_account,
        m.sticks, m.from_account, m.to_account)
    FROM move r JOIN move m ON m.group_id = r.group_id AND m.id = r.reverses_id
    WHERE (r.lot_id, r.from_account, r.to_account, r.sticks) IS DISTINCT FROM (m.lot_id, m.to_account, m.from_account, m.sticks)
  UNION ALL
  SELECT group_id, 'account has less than nothing', lot_id::text, format('%s: holding %s', account, sticks)
    FROM holding WHERE sticks < 0 AND account <> 'cut'
  UNION ALL
  SELECT o.group_id, 'more shares claimed than offered', o.id::text,
      format('offered %s, claims %s', o.shares, c.shares)
    FROM offering o
    JOIN (SELECT group_id, offering_id, sum(shares)::int AS shares
        FROM claim WHERE status::text IN ('promised', 'handed_over') GROUP BY 1, 2) c
      ON c.group_id = o.group_id AND c.offering_id = o.id
    WHERE c.shares > o.shares
  UNION ALL
  SELECT c.group_id, 'claim differs from its moves', c.id::text,
      format('%s %s; moves leave %s promised, %s with the member',
        replace(c.status::text, '_', ' '), c.sticks, coalesce(m.promised, 0), coalesce(m.received, 0))
    FROM claim c
    LEFT JOIN (
      SELECT v.group_id, v.claim_id,
          sum(CASE WHEN v.to_account = 'promised' THEN v.sticks WHEN v.from_account = 'promised' THEN -v.sticks ELSE 0 END)::int
            AS promised,
          sum(CASE 'member:' || k.member_id WHEN v.to_account THEN v.sticks WHEN v.from_account THEN -v.sticks ELSE 0 END)::int
            AS received
        FROM move v JOIN claim k ON k.group_id = v.group_id AND k.id = v.claim_id AND k.lot_id = v.lot_id
        GROUP BY 1, 2) m
      ON m.group_id = c.group_id AND m.claim_id = c.id
    WHERE coalesce(m.promised, 0) <> CASE WHEN c.status::text = 'promised' THEN c.sticks ELSE 0 END
      OR coalesce(m.received, 0) <> CASE WHEN c.status::text = 'handed_over' THEN c.sticks ELSE 0 END
  UNION ALL
  SELECT v.group_id, 'move belongs to a claim of another lot', v.lot_id::text, format('entry %s', v.seq)
    FROM move v JOIN claim c ON c.group_id = v.group_id AND c.id = v.claim_id
    WHERE c.lot_id <> v.lot_id
  UNION ALL
  SELECT c.group_id, 'claims are in no taking', c.member_id::text || ' ' || c.scope, format('claims %s', c.shares)
    FROM (
      SELECT k.group_id, k.swap_id, k.member_id, scope, sum(k.shares)::int AS shares
        FROM claim k CROSS JOIN LATERAL unnest(ARRAY['swap', k.variety_id::text]) AS scope
        WHERE k.status::text IN ('promised', 'handed_over') GROUP BY 1, 2, 3, 4) c
    LEFT JOIN taking t
      ON (t.group_id, t.swap_id, t.member_id, t.scope) = (c.group_id, c.swap_id, c.member_id, c.scope)
    WHERE t.group_id IS NULL;

CREATE VIEW lineage_fault AS
  WITH RECURSIVE parent AS (
    SELECT b.group_id, b.id AS limb_id, coalesce(l.limb_id, a.from_limb_id) AS parent_id
      FROM limb b
      JOIN attempt a ON a.group_id = b.group_id AND a.id = b.from_attempt_id
      LEFT JOIN lot l ON l.group_id = a.group_id AND l.id = a.lot_id),
  -- Limb after limb up the line. Pairs that were seen are left out, so that a circle ends too.
  ancestor AS (
    SELECT group_id, limb_id, parent_id FROM parent WHERE parent_id IS NOT NULL
    UNION
    SELECT a.group_id, a.limb_id, p.parent_id
      FROM ancestor a JOIN parent p ON p.group_id = a.group_id AND p.limb_id = a.parent_id
      WHERE p.parent_id IS NOT NULL)
  SELECT group_id, 'limb comes from its own wood' AS fault, limb_id::text AS subject, '' AS detail
    FROM ancestor WHERE limb_id = parent_id
  UNION ALL
  SELECT b.group_id, 'limb comes from a graft that is not there', b.id::text, b.from_attempt_id::text
    FROM limb b LEFT JOIN attempt a ON a.group_id = b.group_id AND a.id = b.from_attempt_id
    WHERE b.from_attempt_id IS NOT NULL AND a.id IS NULL
  UNION ALL
  SELECT b.group_id, 'limb is on a tree that is not there', b.id::text, b.tree_id::text
    FROM limb b LEFT JOIN tree t ON t.group_id = b.group_id AND t.id = b.tree_id
    WHERE t.id IS NULL
  UNION ALL
  SELECT a.group_id, 'graft used wood that is not there', a.id::text, coalesce(a.lot_id, a.from_limb_id)::text
    FROM attempt a
    LEFT JOIN lot l ON l.group_id = a.group_id AND l.id = a.lot_id
    LEFT JOIN limb b ON b.group_id = a.group_id AND b.id = a.from_limb_id
    WHERE (a.lot_id IS NOT NULL AND l.id IS NULL) OR (a.from_limb_id IS NOT NULL AND b.id IS NULL)
  UNION ALL
  SELECT l.group_id, 'lot was cut from a limb that is not there', l.id::text, l.limb_id::text
    FROM lot l LEFT JOIN limb b ON b.group_id = l.group_id AND b.id = l.limb_id
    WHERE b.id IS NULL
  UNION ALL
  SELECT l.group_id, 'lot was cut in a session that is not there', l.id::text, l.session_id::text
    FROM lot l LEFT JOIN cutting_session s ON s.group_id = l.group_id AND s.id = l.session_id AND s.cut_on = l.cut_on
    WHERE s.id IS NULL
  UNION ALL
  SELECT h.group_id, 'sticks of a lot that is not there', h.lot_id::text, format('%s: holding %s', h.account, h.sticks)
    FROM holding h LEFT JOIN lot l ON l.group_id = h.group_id AND l.id = h.lot_id
    WHERE l.id IS NULL
  UNION ALL
  SELECT o.group_id, 'offering of a lot that is not there', o.id::text, o.lot_id::text
    FROM offering o LEFT JOIN lot l ON l.group_id = o.group_id AND l.id = o.lot_id
    WHERE l.id IS NULL
  UNION ALL
  SELECT c.group_id, 'claim on nothing that is offered', c.id::text, c.offering_id::text
    FROM claim c
    LEFT JOIN offering o ON (o.group_id, o.id, o.swap_id, o.lot_id) = (c.group_id, c.offering_id, c.swap_id, c.lot_id)
    WHERE o.id IS NULL
  UNION ALL
  SELECT c.group_id, 'claim of nobody', c.id::text, c.member_id::text
    FROM claim c LEFT JOIN member m ON m.group_id = c.group_id AND m.id = c.member_id
    WHERE m.id IS NULL;

GRANT SELECT ON entry_fault, lineage_fault TO tallywood_app;
