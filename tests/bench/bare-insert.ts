/** Rows as they come, without a verdict, a state or a question: the least that storing a reading can cost. */
export const bareInsert = `insert into reading (batch_id, reading_no, feature_id, piece, cut, repeat, value_mm, value_given, unit, gauge_id,
 gauge_variance, gauge_fit, known_piece, verdict, disposition, target_mm, probability_conforming, prior, flags,
 gauge_reference, spring_pass)
  select b, n, f, p, 1, 1, v, v, u, g, 1e-6, true, p, 'conforming', 'accept', 12, 1, 'flat', '{}', true, false
  from unnest($1::bigint[], $2::int[], $3::bigint[], $4::int[], $5::text[]::numeric[], $6::text[], $7::bigint[])
 as t (b, n, f, p, v, u, g)
  returning *`;
