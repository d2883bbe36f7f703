import { seasonWeeks } from '../../src/comparison/record/near-weeks.ts'
import type { TrialRecord } from '../../src/comparison/record/trial-record.ts'
import { taskNames } from '../../src/diary/tasks.ts'
import { type AreaFrom, always, areasOf } from '../../src/gardens/areas-held.ts'
import { nth } from '../../src/lookups/nth.ts'
import { mondayOf } from '../../src/quantities/iso-week.ts'
import type { HoursRowSent, WeighingRowSent } from '../../src/reports/row-tables.ts'
import { aDay } from '../support/calendar.ts'
import type { OddTrial } from './recompute-folder.ts'

/** The same numbers from the same seed (a linear congruence; Numerical Recipes, from memory). */
function chance(seed: number) {
  let state = seed
  const next = () => {
    state = (1664525 * state + 1013904223) % 2 ** 32
    return state / 2 ** 32
  }
  return { next, below: (most: number) => Math.floor(next() * most), is: (share: number) => next() < share }
}

export interface Shape {
  readonly seed: number
  readonly methods: number
  readonly seasons: number
  /** A word a garden, a letter a bed: the method that lies on it, "." for a bed without one. */
  readonly laid: readonly string[]
  /** The same in every other season, where ground takes turns. */
  readonly turned?: readonly string[]
  readonly sites?: boolean
  readonly blocks?: boolean
  /** Share of plantings off which nothing came, of weeks that nobody closed, and of plantings that still stand. */
  readonly failing?: number
  readonly open?: number
  readonly standing?: number
  readonly uniformYear?: boolean
  /** Beds that grow, or come late, or are given up, and gardens that grow, on days within seasons and between them. */
  readonly moving?: boolean
  /** A method on whose beds nothing is planted. */
  readonly bare?: string
  /** A crop that stands twice is sown twice in a season, in a set of its own each time. */
  readonly crops?: readonly string[]
  /** The share of plantings that stand over seasons and do not bear yet. */
  readonly establishing?: number
  /** No crop stands in two seasons. */
  readonly changing?: boolean
  /** The ground of the first season was laid after that of the others. */
  readonly relaid?: boolean
}

/** A made-up trial with whatever is odd about it: every number drawn from its seed. */
export function oddTrial(shape: Shape): OddTrial {
  const { seed, laid, failing = 0, open = 0, standing = 0, crops = ['carrot', 'potato', 'chard'] } = shape
  const draw = chance(seed)
  const seasons = Array.from({ length: shape.seasons }, (_, i) => ({
    ...{
      id: `s${i}`,
      name: `Year ${i + 1}`,
      closed: false,
      changedSince: 0,
      sealed: 0,
      uniform: shape.uniformYear === true && i === 0,
    },
    ...{ startsOn: aDay(`${2020 + i}-03-01`), endsOn: aDay(`${2020 + i}-06-30`) },
  }))
  const methods = [...'ABCD'].slice(0, shape.methods).map((id, i) => ({
    ...{ id, name: ['Dug, each spring', 'Mulched', 'Broadforked', 'Strips'][i] ?? id },
    establishingSeasons: i === 1 ? 2 : null,
  }))
  const moved = (areaCm2: number, way: number): readonly AreaFrom[] => {
    if (!shape.moving || way === 0) return always(areaCm2)
    if (way === 1) return areasOf({ from: null, areaCm2 }, [{ from: '2021-05-04', areaCm2: areaCm2 + 4321 }])
    if (way === 2) return [{ from: '2020-04-21', areaCm2 }]
    return areasOf({ from: null, areaCm2 }, [{ from: '2021-12-01', areaCm2: 0 }])
  }
  const gardens = laid.map((_, g) => ({
    ...{ id: `g${g}`, name: `Garden ${g}`, areas: moved(100_003 + 7 * draw.below(5000), g % 2) },
    siteId: shape.sites ? `site ${Math.floor(g / 2)}` : 'one',
  }))
  const beds = laid.flatMap((word, g) =>
    [...word].map((_, b) => ({
      ...{ id: `b${g}.${b}`, gardenId: `g${g}`, areas: moved(20_000 + draw.below(9000), (b + g) % 4) },
      blockId: shape.blocks ? `block ${Math.floor(b / 2)}` : null,
    })),
  )
  const assignments = seasons.flatMap((season, i) =>
    ((i % 2 === 1 && shape.turned) || laid).flatMap((word, g) =>
      [...word].flatMap((methodId, b) =>
        methodId === '.'
          ? []
          : [
              {
                ...{ seasonId: season.id, gardenId: `g${g}`, bedId: `b${g}.${b}`, methodId, how: 'choice' },
                yearOfMethod: i + (methodId === 'A' ? 3 : 1),
                phase: b === 0 ? 'establishing' : 'established',
              },
            ],
      ),
    ),
  )
  const grown = assignments.flatMap(({ seasonId, bedId, methodId }) =>
    crops.flatMap((crop, c) =>
      // Two crops may stand on one bed at once, and their areas may add up to more than it has.
      draw.is(0.08) || methodId === shape.bare
        ? []
        : [
            {
              ...{ id: `${seasonId} ${bedId} ${crop} ${c}`, seasonId, bedId, crop },
              cultivar: shape.changing ? `Kestrel ${seasonId}` : 'Kestrel',
              ...{ matchedSetId: c === 2 && draw.is(0.3) ? null : `${seasonId} ${crop} ${c}`, purpose: 'harvest' },
              ...{ areaCm2: 8000 + draw.below(9000), cleared: !draw.is(standing) },
              ...{ from: aDay(`${seasonOf(seasons, seasonId).startsOn.slice(0, 4)}-03-10`), to: null },
            },
          ],
    ),
  )
  const plantings = grown.map((one) =>
    shape.establishing !== undefined && draw.is(shape.establishing)
      ? { ...one, establishing: true, matchedSetId: null }
      : one,
  )
  const record = {
    ...{ seasons, methods, gardens, beds, plantings },
    assignments: shape.relaid ? [...assignments].reverse() : assignments,
    losses: plantings.flatMap((one) =>
      draw.is(0.2)
        ? [
            { plantingId: one.id, lostOn: one.from ?? '', sharePermille: 1 + draw.below(600), cause: 'slugs' },
            {
              ...{
                plantingId: one.id,
                lostOn: one.from ?? '',
                sharePermille: draw.is(0.4) ? 1000 : 333,
                cause: 'hail',
              },
              ...{ outsideMethod: draw.is(0.7), alsoNextDoor: draw.is(0.5) ? 'yes' : null },
            },
          ]
        : [],
    ),
    spreadings: seasons.flatMap((season) =>
      beds.flatMap((bed, i) => {
        if (!draw.is(0.5)) return []
        const costMinor = draw.is(0.1) ? null : 1 + draw.below(5000)
        const planting = plantings.find((one) => one.bedId === bed.id && one.seasonId === season.id)
        const wide = beds.filter((one) => one.gardenId === bed.gardenId).map((one) => one.id)
        return [
          {
            ...{ seasonId: season.id, costMinor, usefulLifeSeasons: 1 + draw.below(3), kind: 'compost' },
            ...(draw.is(0.3) ? { cashMinor: 17 } : {}),
            bedIds: i % 2 === 0 ? wide : [bed.id],
            phase: i % 2 === 0 && draw.is(0.5) ? null : draw.is(0.3) ? 'establishing' : 'established',
            plantingId: i % 2 === 1 ? (planting?.id ?? null) : null,
          },
        ]
      }),
    ),
    closings: [],
  }
  const empty = { ...record, labour: [], entries: [], plantings: [] } as TrialRecord
  const weeksOf = (seasonId: string) => seasonWeeks(empty, seasonId)
  const closings = seasons.flatMap((season) =>
    weeksOf(season.id).flatMap((isoWeek) =>
      gardens.flatMap((garden) =>
        ['hours', 'weights'].flatMap((what) => (draw.is(open) ? [] : [{ gardenId: garden.id, isoWeek, what }])),
      ),
    ),
  )
  const weighings = plantings.flatMap((one): WeighingRowSent[] => {
    if (draw.is(failing)) return []
    const weeks = weeksOf(one.seasonId).slice(3)
    return Array.from({ length: 3 }, (_, i): WeighingRowSent => {
      const isoWeek = nth(weeks, draw.below(weeks.length))
      return {
        ...{ id: `h${i} ${one.id}`, plantingId: one.id, seasonId: one.seasonId, isoWeek, shared: false },
        ...{
          harvestedOn: mondayOf(isoWeek),
          marketableG: 500 + draw.below(4000),
          unmarketableG: draw.below(500),
        },
        ...{ paper: draw.is(0.2), late: draw.is(0.2) },
      }
    })
  })
  const hours = seasons.flatMap((season) =>
    gardens.flatMap((garden, g) =>
      weeksOf(season.id).flatMap((isoWeek, w): HoursRowSent[] => {
        const own = beds.filter((bed) => bed.gardenId === garden.id)
        const bed = own[draw.below(own.length)]
        const planting = plantings.find((one) => one.bedId === bed?.id && one.seasonId === season.id)
        const forCrop = draw.is(0.4) && planting !== undefined
        const whole = !forCrop && draw.is(0.6)
        const entry: HoursRowSent = {
          ...{ id: `l${season.id} ${g} ${w}`, seasonId: season.id, isoWeek, shared: draw.is(0.3) },
          ...{ task: taskNames[draw.below(taskNames.length)] ?? '', personMinutes: 5 + draw.below(400) },
          ...{ phase: draw.is(0.2) ? 'establishing' : 'established', people: 1 + draw.below(4) },
          ...{ gardenId: whole ? garden.id : null, bedId: whole ? null : (bed?.id ?? null) },
          ...{ plantingId: forCrop ? planting.id : null, paper: draw.is(0.1), late: draw.is(0.3) },
          ...{ byRule: w === 5, beds: null, writtenFor: null },
        }
        return whole && own.length > 2 && w % 3 === 0
          ? inParts(
              entry,
              own.map((one) => one.id),
              w % 2 === 0,
            )
          : [entry]
      }),
    ),
  )
  return { record: { ...record, closings }, weighings, hours }
}

const seasonOf = <T extends { id: string }>(seasons: readonly T[], id: string) =>
  seasons.find((one) => one.id === id) as T

/** The parts of two phases, of a whole garden or of its beds but for the last. */
function inParts(entry: HoursRowSent, bedIds: readonly string[], wholeGarden: boolean): HoursRowSent[] {
  const written = wholeGarden ? bedIds : bedIds.slice(0, -1)
  const part = { ...entry, shared: true, writtenFor: wholeGarden ? null : written }
  const first = Math.floor(entry.personMinutes / 3)
  return [
    { ...part, phase: 'establishing', beds: written.slice(0, 1), personMinutes: first },
    { ...part, phase: 'established', beds: written.slice(1), personMinutes: entry.personMinutes - first },
  ]
}
