import { cropName } from '../comparison/record/crop-name.ts'
import type { TrialRecord } from '../comparison/record/trial-record.ts'
import { methodsOfBeds } from '../comparison/totals/method-totals.ts'
import { keysOf } from '../lookups/keys.ts'
import { textIn } from '../lookups/unsaid.ts'
import { type Answer, answer, type Refusal, refused } from '../statistics/answer.ts'
import { fitMixedModel } from '../statistics/fit-mixed-model.ts'
import type { Spreads } from './plan.ts'

interface OwnSpreads {
  /** Those that the group's own plantings tell; the others stay as they were assumed. */
  readonly spreads: Partial<Spreads>
  readonly plantings: number
}

const fewest = 20
const most = 400

/**
 * How much the group's own matched plantings vary, on the log scale, by REML: method, crop and season taken out, then
 * garden by season, crop by garden, and the rest. With one garden a method the gardens themselves cannot be told from
 * the methods, and their spread stays unknown. Refused for fewer than twenty plantings; the latest 400 are looked at.
 */
export function ownSpreads(record: TrialRecord): Answer<OwnSpreads> | Refusal {
  const gardenOf = new Map(record.beds.map((bed) => [bed.id, bed.gardenId]))
  const rows = record.seasons.flatMap((season) => {
    const methodOf = methodsOfBeds(record, season.id)
    return record.plantings.flatMap((one) => {
      const [method, garden] = [methodOf.get(one.bedId), textIn(gardenOf, one.bedId)]
      const counts = one.seasonId === season.id && one.matchedSetId !== null && one.cleared && one.marketableG > 0
      if (!counts || method === undefined) return []
      const crop = cropName(one)
      return [{ method, garden, crop, season: season.id, log: Math.log((10 * one.marketableG) / one.areaCm2) }]
    })
  })
  const kept = rows.slice(-most)
  if (kept.length < fewest) return refused('too few', `${kept.length} plantings`)
  const column = (of: (one: (typeof kept)[number]) => string) => kept.map(of)
  // Where a method lies on several gardens its seasons can be told from theirs.
  const several = new Set(column((one) => `${one.garden} ${one.season}`)).size
  const separable = several > new Set(column((one) => `${one.method} ${one.season}`)).size
  const ofMethods = separable ? { methodBySeason: column((one) => `${one.method} ${one.season}`) } : {}
  const model = fitMixedModel({
    y: kept.map((one) => one.log),
    fixed: {
      crop: column((one) => one.crop),
      season: column((one) => one.season),
      method: column((one) => one.method),
    },
    random: {
      ...ofMethods,
      garden: column((one) => one.garden),
      gardenBySeason: column((one) => `${one.garden} ${one.season}`),
      cropByGarden: column((one) => `${one.crop} ${one.garden}`),
    },
  })
  if (model.kind === 'refused') return model
  const { garden, gardenBySeason, methodBySeason, cropByGarden, residual } = model.varianceComponents
  const spread = (variance: number | undefined) => (variance === undefined ? undefined : Math.sqrt(variance))
  const told = {
    garden: model.aliased.includes('garden') ? undefined : spread(garden),
    gardenBySeason: spread(gardenBySeason),
    methodBySeason: spread(methodBySeason),
    cropByGarden: spread(cropByGarden),
    residual: spread(residual),
  }
  const spreads: { -readonly [K in keyof Spreads]?: number } = {}
  for (const key of keysOf(told)) {
    const sd = told[key]
    if (sd !== undefined && sd > 0) spreads[key] = sd
  }
  return answer({ spreads, plantings: kept.length })
}
