import { keysOf, recordOf } from '../../lookups/keys.ts'
import type { Words } from '../../words/catalogue.ts'
import type { WorkKind } from './adding-up.ts'
import { type MeasureRules, plainMeasureRules } from './measures.ts'

interface SumUnitDeclared {
  /** As a file names it: UCUM codes, but for money. */
  readonly inFile: string
  /** How a reader sees it: in a way of its own, or so many of it to the unit of that symbol. */
  readonly written: 'kilograms' | 'money' | 'area' | 'lost area' | { readonly to: number; readonly symbol: string }
}

/** What a sum can be in. */
export const sumUnits = {
  g: { inFile: 'g', written: 'kilograms' },
  /** Person-minutes. */
  min: { inFile: 'min', written: { to: 60, symbol: 'h' } },
  /** Whole minor units of the group's currency. */
  minor: { inFile: 'minor', written: 'money' },
  cm2: { inFile: 'cm2', written: 'area' },
  cm2permille: { inFile: 'cm2 x 1/1000', written: 'lost area' },
  count: { inFile: '1', written: { to: 1, symbol: '' } },
} as const satisfies Record<string, SumUnitDeclared>

export type SumUnit = keyof typeof sumUnits
export const sumUnit = (unit: SumUnit): SumUnitDeclared => sumUnits[unit]

/** What one method has in one season, in whole units: every figure of the first table is a quotient of two of these. */
export const sums = {
  gardens: 'count',
  plantings: 'count',
  bedAreaCm2: 'cm2',
  grossAreaCm2: 'cm2',
  /** Over plantings: a bed cropped twice counts twice here, and never in a figure per area of bed. */
  plantedAreaCm2: 'cm2',
  /** What was lost, each planting's losses one after another on what still stood. */
  lostAreaPermille: 'cm2permille',
  marketableG: 'g',
  unmarketableG: 'g',
  minutesWithoutHarvest: 'min',
  minutesOfHarvest: 'min',
  /** Of the minutes without harvest. */
  minutesOfMakingCompost: 'min',
  minutesOfEstablishing: 'min',
  /**
   * Establishing work by kind, as it was done in the season; `spread` is what falls on the season over the stated life.
   */
  groundEstablishing: 'min',
  groundSpread: 'min',
  harvestEstablishing: 'min',
  harvestSpread: 'min',
  compostEstablishing: 'min',
  compostSpread: 'min',
  /**
   * Cost with the stated value of the group's own, and what was paid; then the part of establishing, and that spread.
   */
  costMinor: 'minor',
  costEstablishing: 'minor',
  costSpread: 'minor',
  cashMinor: 'minor',
  cashEstablishing: 'minor',
  cashSpread: 'minor',
  unpriced: 'count',
  unpricedCash: 'count',
  standing: 'count',
  weeks: 'count',
  hoursClosed: 'count',
  weightsClosed: 'count',
  /**
   * Entries of hours and weighings, each once for a method that it touches; those read off paper, and those written
   * late.
   */
  entries: 'count',
  entriesFromPaper: 'count',
  entriesLate: 'count',
} as const satisfies Record<string, SumUnit>

export type SumKey = keyof typeof sums
export type MethodTotals = Record<SumKey, number>

interface UnitDeclared {
  /** What the two sums are in that it is the quotient of. */
  readonly sums: readonly [SumUnit, SumUnit]
  /** Turns the quotient of two sums into the unit. */
  readonly factor: number
  /**
   * The same in the order in which a figure beside the table is divided: one on the edge of two roundings falls alike.
   */
  readonly quotient: ((over: number, under: number) => number) | null
  readonly written: 'two decimals' | 'money' | 'per cent'
}

/** The units of figures in UCUM codes; "of" is so many of so many, said as it is and not divided. */
export const units = {
  'kg/m2': { sums: ['g', 'cm2'], factor: 10, quotient: (g, cm2) => (10 * g) / cm2, written: 'two decimals' },
  'h/m2': {
    sums: ['min', 'cm2'],
    factor: 10_000 / 60,
    quotient: (min, cm2) => ((min / cm2) * 10_000) / 60,
    written: 'two decimals',
  },
  'h/kg': {
    sums: ['min', 'g'],
    factor: 1000 / 60,
    quotient: (min, g) => ((min / g) * 1000) / 60,
    written: 'two decimals',
  },
  'minor/kg': { sums: ['minor', 'g'], factor: 1000, quotient: (minor, g) => (minor / g) * 1000, written: 'money' },
  'minor/m2': {
    sums: ['minor', 'cm2'],
    factor: 10_000,
    quotient: (minor, cm2) => (minor / cm2) * 10_000,
    written: 'money',
  },
  'm2/m2': { sums: ['cm2', 'cm2'], factor: 1, quotient: (cm2, ofCm2) => cm2 / ofCm2, written: 'two decimals' },
  '1': {
    sums: ['cm2permille', 'cm2'],
    factor: 1 / 1000,
    quotient: (permille, cm2) => permille / 1000 / cm2,
    written: 'per cent',
  },
  of: { sums: ['count', 'count'], factor: 1, quotient: null, written: 'two decimals' },
} as const satisfies Record<string, UnitDeclared>

export type Unit = keyof typeof units

/** Where the rows stand that a figure rests on. */
export type FigureSection = 'plantings' | 'crops' | 'hours' | 'costs' | 'losses' | 'weeks' | 'entries'

/** What limits a figure: a planting that still stands, a week that is open, a delivery without a price. */
export type Limit = 'so far' | 'at least' | 'weeks open'

type OfTotals<T> = (totals: MethodTotals, rules: MeasureRules) => T

interface MeasureDeclared {
  /** Two whole numbers, divided once. */
  readonly sums: readonly [over: OfTotals<number>, under: OfTotals<number>]
  readonly unit: Unit
  readonly section: FigureSection
  readonly limit: OfTotals<Limit | null>
  /** The choices that touch it: only these are varied when it is counted in every way. */
  readonly rules: readonly (keyof MeasureRules)[]
}

/**
 * The measures, each declared once: page, files, rows behind it and findings read it here, its words lie under its key.
 */
export const measures = {
  kgPerArea: {
    sums: [gramsOf, areaOf],
    unit: 'kg/m2',
    section: 'plantings',
    limit: yieldsOpen,
    rules: ['weights', 'area'],
  },
  hoursPerArea: {
    sums: [minutesOf, areaOf],
    unit: 'h/m2',
    section: 'hours',
    limit: (totals) => (hoursOpen(totals) ? 'at least' : null),
    rules: ['area', 'harvestWork', 'establishing', 'ownMade'],
  },
  hoursPerKg: {
    sums: [minutesOf, gramsOf],
    unit: 'h/kg',
    section: 'hours',
    limit: (totals) => (hoursOpen(totals) ? 'weeks open' : yieldsOpen(totals)),
    rules: ['weights', 'harvestWork', 'establishing', 'ownMade'],
  },
  costPerKg: {
    sums: [costOf, gramsOf],
    unit: 'minor/kg',
    section: 'costs',
    limit: (totals, rules) => yieldsOpen(totals) ?? costsOpen(totals, rules),
    rules: ['weights', 'establishing', 'ownMade'],
  },
  costPerArea: {
    sums: [costOf, areaOf],
    unit: 'minor/m2',
    section: 'costs',
    limit: costsOpen,
    rules: ['area', 'establishing', 'ownMade'],
  },
  lostArea: {
    sums: [(totals) => totals.lostAreaPermille, (totals) => totals.plantedAreaCm2],
    unit: '1',
    section: 'losses',
    limit: yieldsOpen,
    rules: [],
  },
} as const satisfies Record<keyof Words['measures']['counted'], MeasureDeclared>

export type MeasureKey = keyof typeof measures
export const measureKeys = keysOf(measures)

interface FigureDeclared {
  readonly measure: MeasureKey
  /** How it is counted where that is not the plain way. */
  readonly rules: Partial<MeasureRules>
  /** What is said beneath it, of how much it rests on. */
  readonly rests: 'bed area' | 'gross area' | 'planted area' | 'kg' | 'weeks'
  /** Where it is told how the figure is made: several may share a page. */
  readonly made: keyof Words['measures']['made']
}

/** The figures of the first table, in its order: each a measure under rules that stay. */
export const figures = {
  marketablePerBed: { measure: 'kgPerArea', rules: {}, rests: 'bed area', made: 'marketablePerBed' },
  allPerBed: { measure: 'kgPerArea', rules: { weights: 'all' }, rests: 'bed area', made: 'marketablePerBed' },
  marketablePerGross: {
    measure: 'kgPerArea',
    rules: { area: 'gross' },
    rests: 'gross area',
    made: 'marketablePerGross',
  },
  allPerGross: {
    measure: 'kgPerArea',
    rules: { weights: 'all', area: 'gross' },
    rests: 'gross area',
    made: 'marketablePerGross',
  },
  hoursPerBed: { measure: 'hoursPerArea', rules: { harvestWork: 'without' }, rests: 'weeks', made: 'hoursPerBed' },
  hoursPerKg: { measure: 'hoursPerKg', rules: {}, rests: 'kg', made: 'hoursPerKg' },
  costPerKg: { measure: 'costPerKg', rules: {}, rests: 'kg', made: 'costPerKg' },
  costPerBed: { measure: 'costPerArea', rules: {}, rests: 'bed area', made: 'costPerKg' },
  lostArea: { measure: 'lostArea', rules: {}, rests: 'planted area', made: 'lostArea' },
} as const satisfies Record<keyof Words['measures']['names'], FigureDeclared>

export type FigureKey = keyof typeof figures
export const figureKeys = keysOf(figures)

export const rulesOfFigure = (key: FigureKey): MeasureRules => ({ ...plainMeasureRules, ...figures[key].rules })
export const unitOfFigure = (key: FigureKey): Unit => measures[figures[key].measure].unit

/** The section of each figure of the first table, and of each measure. */
export const sectionOf: Record<FigureKey | MeasureKey, FigureSection> = {
  ...recordOf(measureKeys, (key) => measures[key].section),
  ...recordOf(figureKeys, (key) => measures[figures[key].measure].section),
}

export interface Measure {
  readonly numerator: number
  readonly denominator: number
  /** In the unit of its key; null where the denominator is zero. */
  readonly value: number | null
  readonly limit: Limit | null
}

export function measureOf(totals: MethodTotals, key: MeasureKey, rules: MeasureRules): Measure {
  const { sums, unit, limit }: MeasureDeclared = measures[key]
  const [numerator, denominator] = [sums[0](totals, rules), sums[1](totals, rules)]
  const value = denominator === 0 ? null : (numerator / denominator) * units[unit].factor
  return { numerator, denominator, value, limit: limit(totals, rules) }
}

/** By the rules of the first table. */
export const figureOf = (totals: MethodTotals, key: FigureKey): Measure =>
  measureOf(totals, figures[key].measure, rulesOfFigure(key))

function gramsOf(totals: MethodTotals, { weights }: MeasureRules): number {
  return totals.marketableG + (weights === 'all' ? totals.unmarketableG : 0)
}

function areaOf(totals: MethodTotals, { area }: MeasureRules): number {
  return area === 'bed' ? totals.bedAreaCm2 : totals.grossAreaCm2
}

function minutesOf(t: MethodTotals, rules: MeasureRules): number {
  const all: Record<WorkKind, number> = {
    ground: t.minutesWithoutHarvest - t.minutesOfMakingCompost,
    harvest: t.minutesOfHarvest,
    compost: t.minutesOfMakingCompost,
  }
  const kinds: WorkKind[] = ['ground']
  if (rules.harvestWork === 'with') kinds.push('harvest')
  if (rules.ownMade === 'free') kinds.push('compost')
  return kinds.reduce((sum, kind) => {
    const without = rules.establishing === 'counted' ? 0 : t[`${kind}Establishing`]
    return sum + all[kind] - without + (rules.establishing === 'spread' ? t[`${kind}Spread`] : 0)
  }, 0)
}

function costOf(t: MethodTotals, { ownMade, establishing }: MeasureRules): number {
  const key = ownMade === 'free' ? 'cash' : 'cost'
  const without = establishing === 'counted' ? 0 : t[`${key}Establishing`]
  return t[`${key}Minor`] - without + (establishing === 'spread' ? t[`${key}Spread`] : 0)
}

function yieldsOpen({ standing, weightsClosed, weeks }: MethodTotals): Limit | null {
  return standing > 0 || weightsClosed < weeks ? 'so far' : null
}

function hoursOpen({ hoursClosed, weeks }: MethodTotals): boolean {
  return hoursClosed < weeks
}

function costsOpen(totals: MethodTotals, { ownMade }: MeasureRules): Limit | null {
  return (ownMade === 'free' ? totals.unpricedCash : totals.unpriced) > 0 ? 'at least' : null
}
