import { keysOf } from '../lookups/keys.ts'
import { linked, textIn } from '../lookups/unsaid.ts'
import type { IsoDate } from '../quantities/dates.ts'
import type { IsoWeek } from '../quantities/iso-week.ts'
import { type Called, cropAndCultivar } from '../seasons/planting-names.ts'
import { spreadToSowing } from './spread-to-sowing.ts'

interface Planting extends Called {
  readonly areaCm2: number
}

/** All that was weighed of one planting in one week, dated by its last day. */
interface PickedInWeek {
  readonly plantingId: string
  readonly isoWeek: IsoWeek
  readonly lastOn: IsoDate
  readonly marketableG: number
  readonly unmarketableG: number
}

interface Spreading {
  readonly bedId: string | null
  readonly plantingId: string | null
  readonly day: IsoDate
  readonly quantityThousandths: number
  readonly input: string
  readonly unit: string
}

type At = { readonly bedId: string | null }

/** What is dated on one garden's ground, from every chapter: whole numbers, and decimals as they were printed. */
export interface GardenGround {
  readonly beds: readonly { readonly id: string; readonly name: string }[]
  readonly plantings: readonly Planting[]
  /** What each planting is called, by its id. */
  readonly names: ReadonlyMap<string, string>
  readonly picked: readonly PickedInWeek[]
  readonly losses: readonly { plantingId: string; lostOn: IsoDate; sharePermille: number; cause: string }[]
  readonly spreadings: readonly Spreading[]
  readonly closures: readonly {
    bedId: string
    fromDay: IsoDate
    toDay: IsoDate | null
    why: string
    material: string | null
  }[]
  readonly notes: readonly (At & { seenOn: IsoDate; kind: string; words: string; severity: number | null })[]
  readonly counts: readonly (At &
    Omit<Counted, 'planting'> & { what: string; countedOn: IsoDate; plantingId: string | null })[]
  readonly patches: readonly (At & Patch & { seenOn: IsoDate; species: string })[]
  readonly soilTests: readonly (At & { gardenId: string | null; sampledOn: IsoDate; analyte: string } & Omit<
      Tested,
      'wholeSite'
    >)[]
}

interface Counted {
  readonly method: string
  readonly value: string
  readonly outOf: string | null
  readonly unit: string
  /** What it was counted of, where it names one. */
  readonly planting: string | null
}

interface Patch {
  readonly areaCm2: number | null
  readonly coverPermille: number | null
  readonly shootsPerM2: number | null
}

interface Tested {
  readonly value: string
  readonly unit: string
  readonly extractant: string | null
  readonly depthMm: number | null
  readonly laboratory: string
  readonly wholeSite: boolean
}

/** What is dated, by what it is; `bedId` is null where it is of the whole garden. */
type Dated = { readonly date: IsoDate; readonly bedId: string | null; readonly subject: string } & (
  | { readonly what: 'sown' | 'planted'; readonly areaCm2: number }
  | { readonly what: 'cleared' | 'uncovered' }
  | { readonly what: 'covered'; readonly material: string | null }
  | { readonly what: 'sownAfter'; readonly days: number; readonly after: string }
  | { readonly what: 'picked'; readonly isoWeek: IsoWeek; readonly marketableG: number; readonly unmarketableG: number }
  | { readonly what: 'lost'; readonly sharePermille: number; readonly cause: string }
  | { readonly what: 'spread'; readonly quantityThousandths: number; readonly unit: string }
  | { readonly what: 'noted'; readonly noteKind: string; readonly severity: number | null }
  | ({ readonly what: 'counted' } & Counted)
  | ({ readonly what: 'patch' } & Patch)
  | ({ readonly what: 'tested' } & Tested)
)
/** `planned`: its day is still to come. */
export type Happened = Dated & { readonly planned: boolean }
type What = Happened['what']

/** The kinds that an address can ask for, each with what falls under it. */
const kindsOf = {
  growing: ['sown', 'planted', 'cleared'],
  timing: ['sownAfter'],
  picked: ['picked'],
  lost: ['lost'],
  spread: ['spread'],
  covered: ['covered', 'uncovered'],
  noted: ['noted'],
  counted: ['counted', 'patch'],
  tested: ['tested'],
} as const satisfies Record<string, readonly What[]>
type Kind = keyof typeof kindsOf
export const kinds = keysOf(kindsOf)

/** What came before stands before what follows from it on the same day. */
const order: readonly What[] = [
  ...(['uncovered', 'spread', 'sown', 'planted', 'sownAfter', 'covered'] as const),
  ...(['noted', 'counted', 'patch', 'tested', 'picked', 'lost', 'cleared'] as const),
]

/** Everything dated on this ground, oldest first; what comes after today is planned. */
export function happenedOn(ground: GardenGround, today: IsoDate): readonly Happened[] {
  const known = last.get(ground)
  if (known?.today === today) return known.happened
  const happened = makeHappened(ground, today)
  last.set(ground, { today, happened })
  return happened
}

/** A page asks for it twice. */
const last = new WeakMap<GardenGround, { readonly today: IsoDate; readonly happened: readonly Happened[] }>()

function makeHappened(ground: GardenGround, today: IsoDate): Happened[] {
  const dated = [...grown(ground), ...brought(ground), ...seen(ground)].sort((a, b) =>
    a.date === b.date ? order.indexOf(a.what) - order.indexOf(b.what) : a.date < b.date ? -1 : 1,
  )
  // Each was made here: to copy thousands of them, of many shapes, took longer than to sort them.
  return dated.map((one) => Object.assign(one, { planned: one.date > today }))
}

function grown(ground: GardenGround): Dated[] {
  const plantings = new Map(ground.plantings.map((one) => [one.id, one]))
  const of = (id: string) => ({ bedId: plantings.get(id)?.bedId ?? null, subject: textIn(ground.names, id) })
  /** The sentence about its first day says that day itself. */
  const came = (one: Planting) => ({ bedId: one.bedId, subject: cropAndCultivar(one) })
  return [
    ...ground.plantings.flatMap((one): Dated[] => {
      const { id, areaCm2, sownOn, plantedOn, clearedOn } = one
      return [
        ...(sownOn ? [{ ...came(one), what: 'sown' as const, date: sownOn, areaCm2 }] : []),
        ...(plantedOn ? [{ ...came(one), what: 'planted' as const, date: plantedOn, areaCm2 }] : []),
        ...(clearedOn ? [{ ...of(id), what: 'cleared' as const, date: clearedOn }] : []),
      ]
    }),
    ...ground.picked.map(({ plantingId, lastOn, isoWeek, marketableG, unmarketableG }): Dated => {
      const { bedId, subject } = of(plantingId)
      return { bedId, subject, what: 'picked', date: lastOn, isoWeek, marketableG, unmarketableG }
    }),
    ...ground.losses.map(({ plantingId, lostOn, sharePermille, cause }): Dated => {
      return { ...of(plantingId), what: 'lost', date: lostOn, sharePermille, cause }
    }),
  ]
}

function brought(ground: GardenGround): Dated[] {
  const bedOf = new Map(ground.plantings.map((one) => [one.id, one.bedId]))
  return [
    ...ground.spreadings.map(({ day, bedId, plantingId, input, quantityThousandths, unit }): Dated => {
      const at = { bedId: bedId ?? linked(bedOf, plantingId) ?? null, subject: input }
      return { ...at, what: 'spread', date: day, quantityThousandths, unit }
    }),
    ...spreadToSowing(ground).map(({ planting, date, days, input }): Dated => {
      const subject = textIn(ground.names, planting.id)
      return { what: 'sownAfter', date, bedId: planting.bedId, subject, days, after: input }
    }),
    ...ground.closures.flatMap(({ bedId, fromDay, toDay, why, material }): Dated[] => [
      { what: 'covered', date: fromDay, bedId, subject: why, material },
      ...(toDay ? [{ what: 'uncovered' as const, date: toDay, bedId, subject: '' }] : []),
    ]),
  ]
}

function seen(ground: GardenGround): Dated[] {
  return [
    ...ground.notes.map(({ seenOn, bedId, words, kind, severity }): Dated => {
      return { what: 'noted', date: seenOn, bedId, subject: words, noteKind: kind, severity }
    }),
    ...ground.counts.map(({ countedOn, bedId, plantingId, what, method, value, outOf, unit }): Dated => {
      const planting = linked(ground.names, plantingId) ?? null
      return { what: 'counted', date: countedOn, bedId, subject: what, method, value, outOf, unit, planting }
    }),
    ...ground.patches.map(({ seenOn, bedId, species, areaCm2, coverPermille, shootsPerM2 }): Dated => {
      return { what: 'patch', date: seenOn, bedId, subject: species, areaCm2, coverPermille, shootsPerM2 }
    }),
    ...ground.soilTests.map((test): Dated => {
      const { sampledOn, bedId, gardenId, analyte, value, unit, extractant, depthMm, laboratory } = test
      const found = { value, unit, extractant, depthMm, laboratory, wholeSite: gardenId === null && bedId === null }
      return { what: 'tested', date: sampledOn, bedId, subject: analyte, ...found }
    }),
  ]
}

/** What an address asks to see of it: one kind, or the days of one season; null for all. */
export interface YearAsked {
  readonly kind: Kind | null
  readonly season: { readonly startsOn: IsoDate; readonly endsOn: IsoDate } | null
}

export function askedOf(happened: readonly Happened[], { kind, season }: YearAsked): Happened[] {
  const whats: readonly What[] | null = kind && kindsOf[kind]
  return happened.filter(
    (one) =>
      (whats === null || whats.includes(one.what)) &&
      (season === null || (season.startsOn <= one.date && one.date <= season.endsOn)),
  )
}

/** The latest season in which anything happened; null where nothing did. */
export const latestOf = <S extends { startsOn: IsoDate; endsOn: IsoDate }>(
  happened: readonly Happened[],
  seasons: readonly S[],
) => seasons.findLast((season) => askedOf(happened, { kind: null, season }).some((one) => !one.planned)) ?? null
