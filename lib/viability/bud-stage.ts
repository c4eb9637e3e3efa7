/**
 * How far buds are on the way to bud break at a stage of the BBCH scale (0 to 99), as a share: tight buds 0, first
 * swell (01) 0.6, end of swell (03) 0.8, and from green tip (07) on 1, which cannot be kept as dormant wood. From 91 on
 * the shoot has ended its growth and its buds rest again.
 *
 * The stages are those of Meier et al. for pome and stone fruit, from memory; the shares are a convention.
 */
export function budProgressAtStage(bbch: number): number {
  if (bbch < 1 || bbch > 90) return 0
  if (bbch >= 7) return 1
  return bbch >= 3 ? 0.8 : 0.6
}
