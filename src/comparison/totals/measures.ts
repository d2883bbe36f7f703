/** The choices that change a measure of all that was grown; each is one field. */
export interface MeasureRules {
  readonly weights: 'marketable' | 'all'
  readonly area: 'bed' | 'gross'
  /** Harvest, washing and packing: in the hours, or left out. */
  readonly harvestWork: 'with' | 'without'
  /** Work and inputs of establishing: in their season, left out, or spread over the seasons that the group states. */
  readonly establishing: 'counted' | 'left out' | 'spread'
  /**
   * The group's own compost: free, with the hours of making it; or at its stated value, without them. Never the value
   * and the hours both, and never neither.
   */
  readonly ownMade: 'free' | 'valued'
}

export const measureChoices: { readonly [K in keyof MeasureRules]: readonly MeasureRules[K][] } = {
  weights: ['marketable', 'all'],
  area: ['bed', 'gross'],
  harvestWork: ['with', 'without'],
  establishing: ['counted', 'left out', 'spread'],
  ownMade: ['free', 'valued'],
}

export const plainMeasureRules: MeasureRules = {
  weights: 'marketable',
  area: 'bed',
  harvestWork: 'with',
  establishing: 'counted',
  ownMade: 'free',
}
