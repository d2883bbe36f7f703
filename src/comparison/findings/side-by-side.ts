import { keysOf, recordOf } from '../../lookups/keys.ts'
import { type Burden, burdenOf } from '../matched/burdens.ts'
import type { Figure, FirstTable } from '../matched/first-table.ts'
import { burdenOverSeasons, wholeSeasons } from '../matched/labour-and-cost.ts'
import { replicates } from '../matched/laid-out.ts'
import type { CountingRules } from '../matched/matched-season.ts'
import { overSeasons } from '../matched/over-seasons.ts'
import type { TrialRecord } from '../record/trial-record.ts'
import type { FigureKey } from '../totals/figures.ts'
import { aboutMethods, burdenOfMethods } from './about-methods.ts'
import type { Level } from './certainty.ts'
import type { Finding, PairFindings } from './findings.ts'
import type { LayoutContrast } from './layout-contrast.ts'
import { levelsBeside, type PairAsked } from './pairs-asked.ts'
import { type MissingWeeks, turnedBy } from './yield-finding.ts'

/** The four columns of the main table, and the figure of all crops that stands in each. */
export const sideMeasures = {
  weight: 'marketablePerBed',
  work: 'hoursPerBed',
  workPerKg: 'hoursPerKg',
  inputsPerKg: 'costPerKg',
} as const satisfies Record<string, FigureKey>

export type SideMeasure = keyof typeof sideMeasures
export const sideKeys = keysOf(sideMeasures)

/** Why a cell has no mark beside the reference. */
type NoMark =
  | 'reference'
  | 'nothing matched'
  | 'one season'
  | 'failed season'
  | 'not whole'
  | 'only divided'
  | 'few places'

/** A method beside the reference in one measure; ratios are of the method over the reference. */
export interface SideCell {
  readonly figure: Figure | null
  readonly none: NoMark | null
  readonly ratio: number | null
  readonly low: number | null
  readonly high: number | null
  /** One a season; of replicated layouts none, since their units are gardens. */
  readonly seasons: readonly number[]
  /**
   * Told apart at the level of all pairs in the column (Bonferroni): as a question fixed it beforehand, or exploratory;
   * a difference that open weeks could turn is not told.
   */
  readonly told: 'told' | 'exploratory' | 'not told' | null
  readonly openWeeks: boolean
  /** What the interval is about: these plots, or the method. */
  readonly scope: 'plots' | 'method' | 'method in one season' | null
}

export interface SideRow {
  readonly methodId: string
  readonly method: string
  readonly gardens: readonly string[]
  /** Its place in the group's list: its mark and tone. */
  readonly place: number
  readonly cells: Readonly<Record<SideMeasure, SideCell>>
}

export interface SideBySide {
  readonly referenceId: string
  readonly rows: readonly SideRow[]
  readonly seasons: readonly string[]
  /** Of the intervals: 0.95 for one pair, wider for several. */
  readonly level: number
  /** Of those pairs that a question leaves unnamed which names others. */
  readonly levelUnasked?: number
  readonly questionLocked: boolean
  /** Crops that stood under every method, plantings, weeks of hours and weights closed of all. */
  readonly rests: {
    readonly crops: number
    readonly plantings: number
    readonly closed: number
    readonly weeks: number
  }
  readonly certainty: {
    readonly weight: Level | null
    readonly method: Level | 'one garden' | 'not carried'
  }
}

interface Asked {
  readonly seasonIds: readonly string[]
  readonly referenceId: string
  readonly rules: CountingRules
  readonly questionLocked: boolean
  readonly byPair: readonly PairFindings[]
}

/**
 * Every method beside the reference in weight, work, work per kg and inputs per kg: what the first page and a report
 * show.
 */
export function sideBySide(record: TrialRecord, table: FirstTable, asked: Asked): SideBySide {
  const { referenceId, seasonIds, questionLocked } = asked
  const pairOf = (methodId: string) => {
    const own = asked.byPair.find((one) => one.pair.methodB === methodId)
    const all = Math.max(1, table.methods.length - 1)
    return { methodId, asked: own?.asked ?? questionLocked, comparisons: own?.comparisons ?? all }
  }
  const rows = table.methods.map((own): SideRow => {
    const cells = recordOf(sideKeys, (key): SideCell => {
      const figure = own.figures.find((one) => one.key === sideMeasures[key]) ?? null
      const cell = own.methodId === referenceId ? reference : beside(record, { ...asked, ...pairOf(own.methodId), key })
      return { ...cell, figure }
    })
    return {
      methodId: own.methodId,
      method: own.method,
      gardens: gardensOf(record, seasonIds, own.methodId),
      place: record.methods.findIndex((one) => one.id === own.methodId),
      cells,
    }
  })
  const totals = table.methods.map((one) => one.totals)
  const sum = (of: (one: (typeof totals)[number]) => number) => totals.reduce((all, one) => all + of(one), 0)
  return {
    referenceId,
    rows: [
      ...rows.filter((one) => one.methodId === referenceId),
      ...rows.filter((one) => one.methodId !== referenceId),
    ],
    seasons: record.seasons.filter((one) => seasonIds.includes(one.id)).map((one) => one.name),
    ...levelsBeside(rows.filter((one) => one.methodId !== referenceId).map((one) => pairOf(one.methodId))),
    questionLocked,
    rests: {
      crops: table.matched.length,
      plantings: sum((one) => one.plantings),
      closed: sum((one) => one.hoursClosed + one.weightsClosed),
      weeks: sum((one) => 2 * one.weeks),
    },
    certainty: certaintyOf(table, asked),
  }
}

type Drawn = Omit<SideCell, 'figure'>

const without = (none: NoMark): Drawn => ({
  none,
  ratio: null,
  low: null,
  high: null,
  seasons: [],
  told: null,
  openWeeks: false,
  scope: null,
})
const reference = without('reference')

interface Beside extends Asked, PairAsked {
  readonly key: SideMeasure
  readonly methodId: string
}

function beside(record: TrialRecord, asked: Beside): Drawn {
  const pair = { methodA: asked.referenceId, methodB: asked.methodId }
  const findings = asked.byPair.find((one) => one.pair.methodB === asked.methodId)?.findings ?? []
  const replicated = replicates(record, asked.seasonIds, [asked.referenceId, asked.methodId])
  const toldBy = (low: number, high: number, missing: MissingWeeks | undefined): Pick<Drawn, 'told' | 'openWeeks'> => {
    const openWeeks = missing !== undefined && turnedBy(missing)
    const apart = low > 1 || high < 1
    return { told: apart && !openWeeks ? (asked.asked ? 'told' : 'exploratory') : 'not told', openWeeks }
  }
  if (asked.key === 'weight') {
    if (!replicated) return weightBeside(record, pair, { ...asked, toldBy, missing: missingOf(findings, null) })
    const method = aboutMethods(record, asked.seasonIds, pair, { comparisons: asked.comparisons })
    if (method.kind === 'answer') return ofMethod(method, toldBy(method.low, method.high, missingOf(findings, null)))
    return without(method.reason === 'nothing in common' ? 'nothing matched' : 'few places')
  }
  const telling = { ...asked, toldBy, missing: missingOf(findings, burdenOfColumn[asked.key]) }
  if (!replicated) return burdenBeside(record, pair, telling)
  const burden = burdenOfColumn[asked.key]
  const found = burdenOfMethods(record, asked.seasonIds, pair, burden, { comparisons: asked.comparisons })
  if (found.kind === 'answer')
    return ofMethod(found, toldBy(found.low, found.high, missingOf(findings, burdenOfColumn[asked.key])))
  return without(found.reason === 'only divided' ? 'only divided' : 'not whole')
}

const burdenOfColumn = {
  work: 'hoursPerBed',
  workPerKg: 'hoursPerKg',
  inputsPerKg: 'costPerKg',
} as const satisfies Record<Exclude<SideMeasure, 'weight'>, Burden>

interface Telling extends Beside {
  readonly toldBy: (low: number, high: number, missing: MissingWeeks | undefined) => Pick<Drawn, 'told' | 'openWeeks'>
  readonly missing: MissingWeeks | undefined
}

type Pair = { readonly methodA: string; readonly methodB: string }

/** One season tells of that season: what others would say is not known from it. */
function ofMethod(found: LayoutContrast, told: Pick<Drawn, 'told' | 'openWeeks'>): Drawn {
  const { ratio, low, high, seasons } = found
  return {
    none: null,
    ratio,
    low,
    high,
    seasons: [],
    ...told,
    scope: seasons === 1 ? 'method in one season' : 'method',
  }
}

function weightBeside(
  record: TrialRecord,
  pair: Pair,
  { seasonIds, rules, comparisons, toldBy, missing }: Telling,
): Drawn {
  const over = overSeasons(record, seasonIds, pair, { rules, comparisons })
  if (over.kind === 'refused') return without('nothing matched')
  if (over.failed.length > 0) return without('failed season')
  const seasons = over.seasons.map((one) => Math.exp(one.logRatio))
  if (over.contrast.kind === 'refused') return { ...without('one season'), ratio: seasons[0] ?? null, seasons }
  const [low, high] = [Math.exp(over.contrast.low), Math.exp(over.contrast.high)]
  return {
    none: null,
    ratio: Math.exp(over.contrast.estimate),
    low,
    high,
    seasons,
    ...toldBy(low, high, missing),
    scope: 'plots',
  }
}

function burdenBeside(
  record: TrialRecord,
  pair: Pair,
  { key, seasonIds, comparisons, toldBy, missing }: Telling,
): Drawn {
  if (key === 'weight') return without('nothing matched')
  const burden = burdenOfColumn[key]
  const seasons = wholeSeasons(record, seasonIds, pair, burden)
    .map(({ a, b }) => burdenOf(burden, b) / burdenOf(burden, a))
    .filter((one) => Number.isFinite(one) && one > 0)
  const found = burdenOverSeasons(record, seasonIds, pair, burden, { comparisons })
  if (found.kind === 'refused') {
    if (found.reason === 'only divided') return without('only divided')
    if (found.reason === 'zero total') return without('failed season')
    const only = seasons.length === 1 ? (seasons[0] ?? null) : null
    return { ...without(only === null ? 'not whole' : 'one season'), ratio: only, seasons }
  }
  const [low, high] = [Math.exp(found.low), Math.exp(found.high)]
  return {
    none: null,
    ratio: Math.exp(found.estimate),
    low,
    high,
    seasons,
    ...toldBy(low, high, missing),
    scope: 'plots',
  }
}

/** What open weeks could make of the finding of a burden, or of the weights where none is named. */
function missingOf(findings: readonly Finding[], burden: Burden | null): MissingWeeks | undefined {
  for (const one of findings) {
    if (burden === null && 'layout' in one) return one.missing
    if (burden === null && 'everyWay' in one && !('burden' in one))
      return one.restsOn.soFar ? { kind: 'cannot be said', detail: 'every season is open' } : one.missing
    if ('burden' in one && one.burden === burden) return one.missing
  }
  return undefined
}

function gardensOf(record: TrialRecord, seasonIds: readonly string[], methodId: string): string[] {
  const own = new Set(
    record.assignments
      .filter((one) => one.methodId === methodId && seasonIds.includes(one.seasonId))
      .map((one) => one.gardenId),
  )
  return record.gardens.filter((garden) => own.has(garden.id)).map((garden) => garden.name)
}

const order: readonly Level[] = ['very low', 'low', 'moderate', 'high']
const lowest = (levels: readonly Level[]) => [...levels].sort((a, b) => order.indexOf(a) - order.indexOf(b))[0] ?? null

/**
 * One answer for a layout: where it replicates the methods, that is what can be said of them; otherwise that it cannot.
 */
function certaintyOf(table: FirstTable, { byPair }: Asked): SideBySide['certainty'] {
  const findings = byPair.flatMap((one) => one.findings)
  const plots = findings.flatMap((one) =>
    'certainty' in one && typeof one.certainty === 'object' ? [one.certainty.plots] : [],
  )
  const methods = findings.flatMap((one) => ('layout' in one ? [one.certainty] : []))
  const weight = lowest(plots)
  if (methods.length > 0) return { weight, method: lowest(methods) ?? 'very low' }
  return { weight, method: table.oneGardenAMethod ? 'one garden' : 'not carried' }
}
