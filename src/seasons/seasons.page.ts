import { formatArea, formatDay } from '../quantities/formatting.ts'
import { readLayout } from './layout.ts'
import type { ReturnSaid } from './plan.page.ts'
import { type Called, cropAndCultivar, plantingNames } from './planting-names.ts'

interface SeasonRows {
  readonly seasonId: string
  readonly gardens: readonly { id: string; name: string; siteId: string }[]
  readonly beds: readonly { id: string; gardenId: string; blockId: string | null; name: string }[]
  readonly methods: readonly { id: string; name: string }[]
  readonly crops: readonly { id: string; name: string }[]
  readonly assignments: readonly {
    seasonId: string
    gardenId: string
    bedId: string | null
    methodId: string
    phase: string
    how: string
  }[]
  readonly plantings: readonly PlantingShown[]
  readonly matchedSets: readonly { id: string; name: string }[]
  readonly waits: readonly PlantingWait[]
  /** By planting: a family that comes back to its bed too soon. */
  readonly returns: ReadonlyMap<string, ReturnSaid>
}

/** How long the picking of a planting waits after raw manure on its bed. */
export interface PlantingWait {
  readonly plantingId: string
  readonly input: string
  readonly appliedOn: string
  readonly days: number
  readonly earliest: string
  readonly touchesSoil: number | null
}

interface PlantingShown extends Called {
  readonly areaCm2: number
  readonly seedLot: string | null
  readonly interplanted: number
  readonly matchedSetId: string | null
}

/** What a season's page shows: which method lies where, what is planted, and what that layout can show. */
export function seasonPage(rows: SeasonRows, locale: string) {
  const ofSeason = rows.assignments.filter((one) => one.seasonId === rows.seasonId)
  const assigned = ofSeason.filter((one) => one.bedId === null)
  const planted = rows.plantings.filter((one) => one.seasonId === rows.seasonId)
  const names = plantingNames(rows.plantings, locale)
  const methodName = new Map(rows.methods.map((method) => [method.id, method.name]))
  const bed = new Map(rows.beds.map((one) => [one.id, one]))
  const gardenName = new Map(rows.gardens.map((garden) => [garden.id, garden.name]))
  const waiting = new Map(rows.waits.map((wait) => [wait.plantingId, wait]))
  const setName = new Map(rows.matchedSets.map((set) => [set.id, set.name]))
  return {
    gardens: rows.gardens.map((garden) => {
      const own = assigned.find((one) => one.gardenId === garden.id)
      return {
        name: garden.name,
        method: methodName.get(own?.methodId ?? '') ?? '',
        phase: own?.phase ?? '',
        how: own?.how ?? '',
      }
    }),
    bedsAlone: ofSeason.flatMap((own) => {
      const alone = bed.get(own.bedId ?? '')
      if (!alone) return []
      const method = methodName.get(own.methodId) ?? ''
      const garden = gardenName.get(alone.gardenId) ?? ''
      return [{ garden, bed: alone.name, method, phase: own.phase, how: own.how }]
    }),
    placeChoices: rows.gardens.flatMap((garden) => [
      { value: `garden:${garden.id}`, label: garden.name },
      ...rows.beds
        .filter((one) => one.gardenId === garden.id)
        .map((one) => ({ value: `bed:${one.id}`, label: `${garden.name}, ${one.name}` })),
    ]),
    plantings: planted.map((planting) => ({
      id: planting.id,
      name: cropAndCultivar(planting),
      /** Where its day does not stand beside it. */
      called: names.get(planting.id) ?? '',
      garden: gardenName.get(bed.get(planting.bedId)?.gardenId ?? '') ?? '',
      bed: bed.get(planting.bedId)?.name ?? '',
      area: formatArea(planting.areaCm2, locale),
      day: formatDay(planting.sownOn ?? planting.plantedOn ?? '', locale),
      set: setName.get(planting.matchedSetId ?? '') ?? '',
      seedLot: planting.seedLot,
      interplanted: planting.interplanted === 1,
      returns: rows.returns.get(planting.id) ?? null,
      wait: waitSaid(waiting.get(planting.id), locale),
      cleared: planting.clearedOn ? formatDay(planting.clearedOn, locale) : null,
    })),
    layout: layoutSaid(rows, ofSeason),
    nothingMatched: planted.every((planting) => planting.matchedSetId === null),
    methodChoices: rows.methods.map(({ id, name }) => ({ value: id, label: name })),
    cropChoices: rows.crops.map(({ id, name }) => ({ value: id, label: name })),
    bedChoices: rows.gardens.map((garden) => ({
      garden: garden.name,
      key: garden.id,
      beds: rows.beds.filter((one) => one.gardenId === garden.id).map(({ id, name }) => ({ value: id, label: name })),
    })),
  }
}

const waitSaid = (wait: PlantingWait | undefined, locale: string) =>
  wait
    ? {
        ...{ input: wait.input, days: wait.days, notKnown: wait.touchesSoil === null },
        ...{ on: formatDay(wait.appliedOn, locale), earliest: formatDay(wait.earliest, locale) },
      }
    : null

/** What the layout is, as the catalogue's sentence for it reads it. */
function layoutSaid(rows: SeasonRows, laid: SeasonRows['assignments']) {
  const layout = readLayout(rows, laid)
  const units = [...layout.units].map(([id, count]) => ({
    method: rows.methods.find((one) => one.id === id)?.name ?? '',
    count,
  }))
  return { ...layout, units, alone: [], fewest: 0, smallest: null }
}

export interface DecidedBefore {
  readonly seasonId: string
  readonly decision: string
  readonly expected: string
  readonly happened: string | null
}

/** What was decided after the season before this one: what was expected beside what happened. */
export function decidedBefore(
  { seasons, decided }: { seasons: readonly { id: string }[]; decided: readonly DecidedBefore[] },
  seasonId: string,
) {
  const before = seasons[seasons.findIndex((one) => one.id === seasonId) - 1]
  return decided
    .filter((one) => one.seasonId === before?.id)
    .map(({ decision, expected, happened }) => ({ decision, expected, happened }))
}
