import { gramsOf } from '../inputs/measures.ts'
import { type Analysis, nutrientsIn } from '../inputs/nutrients.ts'
import { type Answer, answer, type Refusal, refused } from '../statistics/answer.ts'

export interface CompostPlan extends Analysis {
  readonly areaCm2: number
  readonly depthMm: number
  /** Null while it was not weighed: then its mass and what it carries are not known. */
  readonly densityKgPerM3: number | null
  /** Null while it is not known: then the plan has no cost. */
  readonly priceMinorPerM3: number | null
  readonly carriageMinor: number
}

export type MainNutrient = 'nitrogen' | 'phosphorus' | 'potassium'

/**
 * What a layer of compost takes and carries. Volume = area x depth, mass = volume x density, dry matter = mass x (1 -
 * moisture), nutrient = dry matter x its content; grams, and grams per m2 (1 g/m2 is 10 kg/ha). A nutrient whose
 * content is unknown stays null. Refused where area, depth or density is not above nothing.
 * Example: 50 mm on 1 m2 at 600 kg/m3, half of it water, 1.5-0.4-1.0 per cent: 30 kg, of it 225 g N, 60 g P, 150 g K.
 */
export function compostPlan(plan: CompostPlan) {
  const { areaCm2, depthMm, densityKgPerM3, priceMinorPerM3, carriageMinor } = plan
  if (!(areaCm2 > 0 && depthMm > 0 && (densityKgPerM3 ?? 1) > 0))
    return refused('out of range', `${areaCm2} cm2, ${depthMm} mm, ${densityKgPerM3} kg/m3`)
  const volumeMl = (areaCm2 * depthMm) / 10
  const squareMetres = areaCm2 / 10_000
  const freshG = gramsOf(volumeMl / 1000, { unit: 'm3', densityKgPerM3, measures: [] })
  const { dryG, ...carried } = nutrientsIn(freshG, plan)
  const per = (grams: number | null) => (grams === null ? null : { grams, perM2: grams / squareMetres })
  const costMinor =
    priceMinorPerM3 === null ? null : Math.round((priceMinorPerM3 * volumeMl) / 1_000_000) + carriageMinor
  return answer({
    volumeMl,
    freshG,
    dryG,
    nitrogen: per(carried.nitrogenG),
    phosphorus: per(carried.phosphorusG),
    potassium: per(carried.potassiumG),
    costMinor,
    costMinorPerM2: costMinor === null ? null : costMinor / squareMetres,
  })
}

/**
 * The part of a finished compost's nitrogen that crops find in the first season: 10 per cent, 0 to 20. Common figures
 * of extension tables, from memory. Field trials with municipal compost found 13 to 23 per cent over three to four
 * years (Horrocks et al. 2016, Agronomy 6:35).
 */
export const firstSeasonNitrogen = { low: 0, likely: 0.1, high: 0.2 } as const

interface Balance {
  readonly supplyGPerM2: number
  readonly offtakeGPerM2: number
  /** Of the layer whose supply it is. */
  readonly depthMm: number
  readonly seasons: number
}

/**
 * What stays in the ground when the same layer goes on every season: supply less what crops carry off, summed. An upper
 * bound, since nothing is washed out here. `seasonsCarried`: how many seasons of that offtake one layer holds.
 * `replacingMm`: the layer that only replaces it. Refused where nothing was carried off.
 */
export function buildUp(balance: Balance): Answer<BuildUp> | Refusal {
  const { supplyGPerM2, offtakeGPerM2, depthMm, seasons } = balance
  if (!(offtakeGPerM2 > 0 && supplyGPerM2 > 0)) return refused('zero total', `${supplyGPerM2}, ${offtakeGPerM2} g/m2`)
  const surplusGPerM2 = supplyGPerM2 - offtakeGPerM2
  return answer({
    surplusGPerM2,
    afterSeasonsGPerM2: seasons * surplusGPerM2,
    seasonsCarried: supplyGPerM2 / offtakeGPerM2,
    replacingMm: (depthMm * offtakeGPerM2) / supplyGPerM2,
  })
}

interface BuildUp {
  readonly surplusGPerM2: number
  readonly afterSeasonsGPerM2: number
  readonly seasonsCarried: number
  readonly replacingMm: number
}
