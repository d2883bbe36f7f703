import { z } from 'zod'
import type { CountingRules } from './matched/matched-season.ts'
import { type MeasureRules, plainMeasureRules } from './totals/measures.ts'

/** Words of an address stand for the choices of the rules; whatever else is there is read as the plain choice. */
const one = <const T extends readonly [string, ...string[]]>(values: T) => z.enum(values).optional().catch(undefined)

const askedForm = z.object({
  season: z.string().max(80).optional().catch(undefined),
  beside: z.string().max(80).optional().catch(undefined),
  reference: z.string().max(80).optional().catch(undefined),
  by: one(['method', 'garden', 'bed', 'crop']),
  weights: one(['marketable', 'all']),
  mix: one(['pooled areas', 'equal parts']),
  outside: one(['counted', 'set left out']),
  area: one(['bed', 'gross']),
  harvestWork: one(['with', 'without']),
  establishing: one(['counted', 'left out', 'spread']),
  ownMade: one(['free', 'valued']),
})

interface CompareAsked {
  readonly season: string | undefined
  /** The method that the pictures show beside the reference. */
  readonly beside: string | undefined
  /** The method that all others are held beside; the question's, or the first, where none is named. */
  readonly reference: string | undefined
  readonly by: 'method' | 'garden' | 'bed' | 'crop'
  readonly measures: MeasureRules
  /**
   * The rules of matched crops that the address names; those it does not name are the question's, or the plain ones.
   */
  readonly matched: Partial<CountingRules>
}

/** Reads what an address of Compare asks for. */
export function readAsked(query: unknown): CompareAsked {
  const asked = askedForm.parse(query ?? {})
  const { season, beside, reference, by = 'method', weights, mix, outside } = asked
  const plain = plainMeasureRules
  const measures: MeasureRules = {
    weights: weights ?? plain.weights,
    area: asked.area ?? plain.area,
    harvestWork: asked.harvestWork ?? plain.harvestWork,
    establishing: asked.establishing ?? plain.establishing,
    ownMade: asked.ownMade ?? plain.ownMade,
  }
  return {
    season,
    beside,
    reference,
    by,
    measures,
    matched: {
      ...(weights ? { weights } : {}),
      ...(mix ? { mix } : {}),
      ...(outside ? { outsideLosses: outside } : {}),
    },
  }
}
