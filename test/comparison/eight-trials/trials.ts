import { seasonWeeks } from '../../../src/comparison/record/near-weeks.ts'
import type { TrialRecord } from '../../../src/comparison/record/trial-record.ts'
import { always } from '../../../src/gardens/areas-held.ts'
import { aDay } from '../../support/calendar.ts'

interface Garden {
  readonly name: string
  /** The method of each of its beds in each season: "dug", or "dug mulch dug" for three beds. */
  readonly laid: readonly string[]
  /** How many times what other ground gives. */
  readonly ground?: number
}

interface Trial {
  readonly seasons: readonly string[]
  readonly gardens: readonly Garden[]
  readonly how?: string
  /** How many times what digging gives, and how many times its hours. */
  readonly yields?: number
  readonly hours?: number
  /** A crop that one method loses in every season; a garden that loses all of one season; a season without matched sets. */
  readonly lost?: { readonly crop: string; readonly method: string }
  readonly failed?: { readonly garden: string; readonly season: string }
  readonly unmatched?: string
  readonly uniform?: string
}

const crops = { carrot: 3.2, cabbage: 4.1, potato: 2.6, leek: 2.2 } as const
const names = { dug: 'Dug every spring', mulch: 'Compost mulch' } as const
/** What chance does to a planting, in hundredths: a fixed row, walked through as rows are made. */
const chance = [3, -8, 11, -2, 6, -12, 1, 9, -5, -7, 4, 13, -10, 2, -4, 8, -1, -9, 7, 5, -3, 10, -6]

/** Rows of an invented trial: four matched crops of 2 m2 on every bed, every week closed, hours and inputs written by bed. */
function rowsOf(trial: Trial): TrialRecord {
  let drawn = 0
  const moved = () => 1 + (chance[drawn++ % chance.length] ?? 0) / 100
  const beds = trial.gardens.flatMap((garden, g) =>
    (garden.laid[0] ?? '').split(' ').map((_, b) => ({ id: `b${g}.${b}`, garden, g, b })),
  )
  const methodOf = (bed: (typeof beds)[number], s: number) => bed.garden.laid[s]?.split(' ')[bed.b] ?? ''
  const inSeason = <T>(make: (bed: (typeof beds)[number], s: number) => readonly T[]) =>
    trial.seasons.flatMap((_, s) => beds.flatMap((bed) => make(bed, s)))
  const blocks = beds.length > trial.gardens.length && trial.gardens.length === 1
  const record: TrialRecord = {
    seasons: trial.seasons.map((name) => ({
      ...{
        id: name,
        name,
        startsOn: aDay(`${name}-03-02`),
        endsOn: aDay(`${name}-06-28`),
        closed: true,
        changedSince: 0,
        sealed: 0,
      },
      uniform: name === trial.uniform,
    })),
    methods: Object.entries(names).map(([id, name]) => ({ id, name })),
    gardens: trial.gardens.map(({ name }, g) => ({ id: `g${g}`, name, areas: always(300_000), siteId: 'Quern Hill' })),
    beds: beds.map(({ id, g, b }) => ({
      ...{ id, gardenId: `g${g}`, areas: always(100_000), blockId: blocks ? `block ${Math.floor(b / 2)}` : null },
    })),
    assignments: inSeason((bed, s) => [
      {
        ...{ seasonId: trial.seasons[s] ?? '', gardenId: `g${bed.g}`, bedId: bed.id, methodId: methodOf(bed, s) },
        ...{ how: trial.how ?? 'choice', yearOfMethod: s + 4 },
      },
    ]),
    plantings: inSeason((bed, s) =>
      Object.entries(crops).map(([crop, rate]) => {
        const season = trial.seasons[s] ?? ''
        const method = methodOf(bed, s)
        const gone =
          (trial.lost?.crop === crop && trial.lost.method === method) ||
          (trial.failed?.garden === bed.garden.name && trial.failed.season === season)
        const kg = 2 * rate * (bed.garden.ground ?? 1) * (method === 'mulch' ? (trial.yields ?? 1) : 1) * moved()
        return {
          ...{ id: `${season} ${bed.id} ${crop}`, seasonId: season, bedId: bed.id, crop, cultivar: 'Kestrel' },
          ...{ matchedSetId: season === trial.unmatched ? null : `${season} ${crop}`, areaCm2: 20_000 },
          ...{ purpose: 'harvest', cleared: true, from: `${season}-03-02`, to: `${season}-06-26` },
          ...{ marketableG: gone ? 0 : Math.round(1000 * kg), unmarketableG: gone ? 0 : Math.round(100 * kg) },
        }
      }),
    ),
    losses: [],
    labour: inSeason((bed, s) => [
      {
        ...{ seasonId: trial.seasons[s] ?? '', task: 'weeding', phase: 'established', bedIds: [bed.id], who: 'A.' },
        personMinutes: Math.round(600 * (methodOf(bed, s) === 'mulch' ? (trial.hours ?? 1) : 1) * moved()),
      },
    ]),
    spreadings: inSeason((bed, s) => [
      {
        ...{ seasonId: trial.seasons[s] ?? '', bedIds: [bed.id], usefulLifeSeasons: 1, kind: 'compost' },
        costMinor: Math.round(1500 * moved()),
      },
    ]),
    closings: [],
  }
  const closings = record.seasons.flatMap((season) =>
    seasonWeeks(record, season.id).flatMap((isoWeek) =>
      record.gardens.flatMap((garden) => ['hours', 'weights'].map((what) => ({ gardenId: garden.id, isoWeek, what }))),
    ),
  )
  return { ...record, closings }
}

const through = (method: string, seasons: number) => Array.from({ length: seasons }, () => method)
const pair = (seasons: number): readonly Garden[] => [
  { name: 'Lower Terrace', laid: through('dug', seasons) },
  { name: 'Long Bank', laid: through('mulch', seasons) },
]
const three = ['2024', '2025', '2026']

/** Eight trials whose truth is known, since it was made up. */
export const eightTrials: Readonly<Record<string, TrialRecord>> = {
  'no difference at all': rowsOf({ seasons: three, gardens: pair(3) }),
  'better ground': rowsOf({
    ...{ seasons: ['2023', ...three], uniform: '2023' },
    gardens: [
      { name: 'Lower Terrace', laid: through('dug', 4) },
      { name: 'Long Bank', laid: ['dug', ...through('mulch', 3)], ground: 1.4 },
    ],
  }),
  'a true fifth in three and three gardens': rowsOf({
    ...{ seasons: ['2025', '2026'], how: 'random', yields: 1.2, hours: 0.8 },
    gardens: [
      ...['Lower Terrace', 'Orchard Edge', 'Clover Strip'].map((name) => ({ name, laid: through('dug', 2) })),
      ...['Long Bank', 'Hay Meadow', 'Quarry Plot'].map((name) => ({ name, laid: through('mulch', 2) })),
    ],
  }),
  'a whole crop lost': rowsOf({ seasons: three, gardens: pair(3), lost: { crop: 'cabbage', method: 'mulch' } }),
  'a failed season': rowsOf({ seasons: three, gardens: pair(3), failed: { garden: 'Long Bank', season: '2025' } }),
  'a gap year': rowsOf({ seasons: ['2023', ...three], gardens: pair(4), unmatched: '2024', yields: 1.3 }),
  'a swap': rowsOf({
    ...{ seasons: ['2023', ...three], yields: 1.25, hours: 0.7 },
    gardens: [
      { name: 'Lower Terrace', laid: ['dug', 'mulch', 'dug', 'mulch'] },
      { name: 'Long Bank', laid: ['mulch', 'dug', 'mulch', 'dug'], ground: 1.2 },
    ],
  }),
  'blocks of beds': rowsOf({
    ...{ seasons: ['2026'], how: 'random', yields: 1.2 },
    gardens: [{ name: 'Lower Terrace', laid: ['dug mulch mulch dug dug mulch mulch dug dug mulch'] }],
  }),
}
