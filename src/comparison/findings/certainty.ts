/** How sure a finding is about these plots, step by step; and what it can say about the method, by layout alone. */
export type Level = 'very low' | 'low' | 'moderate' | 'high'

export type StepReason =
  | 'few seasons'
  | 'two seasons'
  | 'few matched crops'
  | 'weeks open'
  | 'no question beforehand'
  | 'wide interval'
  | 'changed after closing'
  | 'missing weeks turn it'

export interface Certainty {
  readonly plots: Level
  readonly steps: readonly StepReason[]
  /**
   * With one garden a method it cannot be told from the plot, however many seasons; other layouts may not carry it
   * either.
   */
  readonly method: 'cannot be told from the plot' | 'not carried by the layout'
}

interface Grounds {
  readonly seasons: number
  /** Of the method that lies on more of them. */
  readonly gardens: number
  /** Null where all that grew is counted. */
  readonly matchedCrops: number | null
  /** Closed weeks over all weeks, 0..1, the lower of the two gardens. */
  readonly coverage: number
  readonly questionLocked: boolean
  /** Half the interval on the log scale. */
  readonly halfWidth: number
  /** The half width from which an interval is wide: that of the margin that the question fixed, or a factor of 1.5. */
  readonly wideFrom?: number
  readonly changedSince: number
  /** False where a finding does not stand with the open weeks at their least and at their most. */
  readonly survives?: boolean
}

const levels: readonly Level[] = ['very low', 'low', 'moderate', 'high']

/**
 * Starts at high and goes down a step for each reason that holds, two for two seasons. The domains are those of GRADE
 * (Guyatt et al. 2008, BMJ 336:924); the limits are common practice: 5 seasons, 3 crops, 90 % of weeks, the margin or a
 * factor of 1.5.
 */
export function certaintyOf(grounds: Grounds): Certainty {
  const { seasons, gardens, matchedCrops, coverage, questionLocked, halfWidth, wideFrom = Math.log(1.5) } = grounds
  const steps: StepReason[] = [
    ...(seasons === 2 ? (['two seasons', 'few seasons'] as const) : seasons < 5 ? (['few seasons'] as const) : []),
    ...(matchedCrops !== null && matchedCrops < 3 ? (['few matched crops'] as const) : []),
    ...(coverage < 0.9 ? (['weeks open'] as const) : []),
    ...(questionLocked ? [] : (['no question beforehand'] as const)),
    ...(halfWidth > wideFrom ? (['wide interval'] as const) : []),
    ...(grounds.changedSince > 0 ? (['changed after closing'] as const) : []),
    ...(grounds.survives === false ? (['missing weeks turn it'] as const) : []),
  ]
  const plots = levels[Math.max(0, levels.length - 1 - steps.length)] ?? 'very low'
  return { plots, steps, method: gardens > 1 ? 'not carried by the layout' : 'cannot be told from the plot' }
}
