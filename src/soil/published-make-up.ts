import { type Analysis, phosphorusInOxide, potassiumInOxide } from '../inputs/nutrients.ts'

/**
 * What materials hold where the group has no analysis of its own, and what of it crops find, season by season. A load
 * can differ from these by half and more: a page that uses one names it and its source.
 */
type Material =
  | 'compost'
  | 'cattle'
  | 'sheep'
  | 'pig'
  | 'goat'
  | 'horse'
  | 'poultry'
  | 'legume hay'
  | 'hay'
  | 'straw'
  | 'blood meal'
  | 'bone meal'
  | 'horn meal'
  | 'cottonseed meal'
  | 'fish meal'
  | 'wood ash'
  | 'seed potatoes'

/** Whose figure it is; each has its words. "memory": not looked up again, and said so. */
type MakeUpSource = 'CalRecycle' | 'AHDB' | 'Kentucky' | 'Texas' | 'USDA' | 'memory'

/** Milligrams in a kilogram of dry matter, of the element; `moisturePermille` of the fresh weight. */
export interface PublishedMakeUp extends Analysis {
  readonly moisturePermille: number
  readonly nitrogenMgPerKg: number
  readonly phosphorusMgPerKg: number
  readonly potassiumMgPerKg: number
  /** As it comes; null where no figure is at hand: a bale or a bag has to be weighed. */
  readonly densityKgPerM3: number | null
  readonly source: MakeUpSource
}

interface AsItComes {
  readonly dry: number
  /** kg of N, P2O5 and K2O in a tonne as it comes, as handbooks give them; of labels, per cent x 10. */
  readonly has: readonly [nitrogen: number, phosphate: number, potash: number]
  readonly density: number | null
  readonly source: MakeUpSource
}

const fromFresh = ({ dry, has, density, source }: AsItComes): PublishedMakeUp => {
  const [nitrogen, phosphate, potash] = has
  const inDry = (kgPerTonne: number) => Math.round((kgPerTonne * 100_000) / dry)
  return {
    moisturePermille: Math.round(10 * (100 - dry)),
    nitrogenMgPerKg: inDry(nitrogen),
    phosphorusMgPerKg: inDry(phosphate * phosphorusInOxide),
    potassiumMgPerKg: inDry(potash * potassiumInOxide),
    densityKgPerM3: density,
    source,
  }
}

/**
 * compost: means of more than 1,600 samples, in dry matter 1.53 % N, 0.59 % P, 1.13 % K (CalRecycle 2013, after Soil
 * Control Lab); half water as in the New England Vegetable Guide. Farmyard manures: dry matter and N of AHDB, Nutrient
 * Management Guide (RB209), section 2; their P2O5 and K2O, and all of poultry, from memory of the same tables. Legume
 * hay: 50-14-55 lb in a ton (University of Kentucky, PSS Views 142). Meals and ash: labels as Texas A&M gives them, dry
 * matter from memory. Seed potatoes: USDA 11352, water from memory. Grass hay and straw: from memory. Densities: 1000
 * (compost, poultry), 800 (horse), 1700 lb in a cubic yard (other manures), as on `densities`.
 */
const published: Readonly<Record<Material, PublishedMakeUp>> = {
  compost: {
    moisturePermille: 500,
    nitrogenMgPerKg: 15_300,
    phosphorusMgPerKg: 5_900,
    potassiumMgPerKg: 11_300,
    densityKgPerM3: 593,
    source: 'CalRecycle',
  },
  cattle: fromFresh({ dry: 25, has: [6, 3.2, 9.4], density: 1009, source: 'AHDB' }),
  sheep: fromFresh({ dry: 25, has: [7, 3.2, 8], density: 1009, source: 'AHDB' }),
  pig: fromFresh({ dry: 25, has: [7, 6, 8], density: 1009, source: 'AHDB' }),
  goat: fromFresh({ dry: 40, has: [9.5, 4.5, 12], density: 1009, source: 'AHDB' }),
  horse: fromFresh({ dry: 25, has: [5, 5, 6], density: 475, source: 'AHDB' }),
  poultry: fromFresh({ dry: 40, has: [19, 12, 15], density: 593, source: 'memory' }),
  'legume hay': fromFresh({ dry: 86, has: [25, 7, 27.5], density: null, source: 'Kentucky' }),
  hay: fromFresh({ dry: 86, has: [15, 5.9, 18], density: null, source: 'memory' }),
  straw: fromFresh({ dry: 85, has: [5, 1.2, 9.5], density: null, source: 'memory' }),
  'blood meal': fromFresh({ dry: 90, has: [100, 15, 0], density: null, source: 'Texas' }),
  'bone meal': fromFresh({ dry: 95, has: [20, 270, 0], density: null, source: 'Texas' }),
  'horn meal': fromFresh({ dry: 90, has: [140, 0, 0], density: null, source: 'Texas' }),
  'cottonseed meal': fromFresh({ dry: 90, has: [60, 25, 20], density: null, source: 'Texas' }),
  'fish meal': fromFresh({ dry: 90, has: [90, 70, 0], density: null, source: 'Texas' }),
  'wood ash': fromFresh({ dry: 100, has: [0, 20, 60], density: 356, source: 'Texas' }),
  // In 100 g as they come 0.323 g N, 57 mg P and 421 mg K.
  'seed potatoes': {
    moisturePermille: 792,
    nitrogenMgPerKg: 15_529,
    phosphorusMgPerKg: 2_740,
    potassiumMgPerKg: 20_240,
    densityKgPerM3: null,
    source: 'USDA',
  },
}

/** Read in this order: "composted horse manure" is horse manure, "straw of the stable" no manure by its word alone. */
const called: readonly (readonly [RegExp, Material])[] = [
  [/blood/, 'blood meal'],
  [/bone/, 'bone meal'],
  [/horn|hoof/, 'horn meal'],
  [/cotton/, 'cottonseed meal'],
  [/fish/, 'fish meal'],
  [/\bash(es)?\b/, 'wood ash'],
  [/poultry|chicken|hen\b|hens\b|pigeon|duck/, 'poultry'],
  [/horse|stable/, 'horse'],
  [/sheep/, 'sheep'],
  [/goat/, 'goat'],
  [/\bpig|swine/, 'pig'],
  [/cow|cattle|farmyard|beef/, 'cattle'],
  [/lucerne|alfalfa|clover hay/, 'legume hay'],
  [/\bhay\b/, 'hay'],
  [/straw/, 'straw'],
  [/potato/, 'seed potatoes'],
]

interface Called {
  readonly name: string
  readonly kind: string
}

/** Which material a name means, among those that its kind can be; null where none is meant surely. */
function materialOf({ name, kind }: Called): Material | null {
  const found = called.find(([word]) => word.test(name.toLowerCase()))?.[1] ?? null
  if (kind === 'compost') return 'compost'
  if (kind === 'seed' || kind === 'plants') return found === 'seed potatoes' ? found : null
  return found === 'seed potatoes' ? null : found
}

export function publishedMakeUp(input: Called): PublishedMakeUp | null {
  const material = materialOf(input)
  return material === null ? null : published[material]
}

/**
 * Shares that crops find in the season of spreading, the next and the one after. Nitrogen of manure 25, 13 and 6 per
 * cent, of composted manure and compost 12, 7 and 4; phosphorus 70, 20 and 6; potassium 90 in the first (Alberta
 * Agriculture, Nutrient Management Planning Guide, manure test interpretation). Nitrogen of meals 75 in the first, of
 * hay and straw 10, 10 and 5: from memory.
 */
type Shares = readonly number[]
const ofCompost: Shares = [0.12, 0.07, 0.04]
const ofManure: Shares = [0.25, 0.13, 0.06]
const ofMeal: Shares = [0.75]
const ofMulch: Shares = [0.1, 0.1, 0.05]

export const foundOfPhosphorus: Shares = [0.7, 0.2, 0.06]
export const foundOfPotassium: Shares = [0.9]

/** Null where nothing is known of a material: then what crops find of its nitrogen is unknown. */
export function foundOfNitrogen(input: Called & { readonly rawManure: number }): Shares | null {
  if (input.kind === 'compost' || (input.kind === 'manure' && input.rawManure === 0)) return ofCompost
  if (input.kind === 'manure') return ofManure
  const material = materialOf(input)
  if (material === null) return null
  if (['hay', 'legume hay', 'straw'].includes(material)) return ofMulch
  return material === 'wood ash' || material === 'seed potatoes' ? [1] : ofMeal
}
