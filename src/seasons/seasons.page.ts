import { methodMark } from '../drawing/method-marks.ts'
import { asShown, linked, linkOf, nameIfAny, textIn } from '../lookups/unsaid.ts'
import type { IsoDate } from '../quantities/dates.ts'
import { formatArea, formatDay } from '../quantities/formatting.ts'
import { catalogue } from '../words/catalogue.ts'
import { gardenParts } from './garden-parts.ts'
import { readLayout } from './layout.ts'
import type { ReturnSaid } from './plan.page.ts'
import { plantedAlike } from './planted-alike.ts'
import { type Called, cropAndCultivar, plantingNames } from './planting-names.ts'
import { seasonsStood, standsIn } from './seasons-stood.ts'

interface SeasonRows {
  readonly seasonId: string
  readonly seasons: readonly { id: string; startsOn: IsoDate }[]
  readonly gardens: readonly { id: string; name: string; siteId: string }[]
  readonly beds: readonly { id: string; gardenId: string; blockId: string | null; name: string }[]
  /** Those of the beds that have ground in the season: what else is planted or laid is chosen among them. */
  readonly bedsThere: readonly { id: string; gardenId: string; name: string }[]
  readonly methods: readonly { id: string; name: string; colourIndex: number }[]
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
  /** Seed that was saved, by the name of its lot. */
  readonly seedSaved: readonly SeedSaved[]
  /** By planting: a family that comes back to its bed too soon. */
  readonly returns: ReadonlyMap<string, ReturnSaid>
}

/** How long the picking of a planting waits after raw manure on its bed. */
export interface PlantingWait {
  readonly plantingId: string
  readonly input: string
  readonly appliedOn: IsoDate
  readonly days: number
  readonly earliest: string
  readonly touchesSoil: number | null
}

/** Seed that was weighed as a harvest of its own. */
export interface SeedSaved {
  readonly lot: string | null
  readonly plantingId: string | null
  readonly savedOn: IsoDate
}

interface PlantingShown extends Called {
  readonly cultivarId: string
  readonly areaCm2: number
  readonly seedLot: string | null
  readonly interplanted: number
  readonly matchedSetId: string | null
  readonly standsOverSeasons: number
  readonly establishingSeasons: number | null
}

/** What a season's page shows: which method lies where, what is planted, and what that layout can show. */
export function seasonPage(rows: SeasonRows, locale: string) {
  const ofSeason = rows.assignments.filter((one) => one.seasonId === rows.seasonId)
  const assigned = ofSeason.filter((one) => one.bedId === null)
  const planted = rows.plantings.filter((one) => standsIn(one, rows.seasonId, rows.seasons))
  const names = plantingNames(rows.plantings, locale)
  const methodName = new Map(rows.methods.map((method) => [method.id, method.name]))
  const mark = new Map(rows.methods.map(({ id, colourIndex }) => [id, markOf(colourIndex)]))
  const bed = new Map(rows.beds.map((one) => [one.id, one]))
  const gardenName = new Map(rows.gardens.map((garden) => [garden.id, garden.name]))
  const waiting = new Map(rows.waits.map((wait) => [wait.plantingId, wait]))
  const setName = new Map(rows.matchedSets.map((set) => [set.id, set.name]))
  return {
    gardens: rows.gardens.map((garden) => {
      const own = assigned.find((one) => one.gardenId === garden.id)
      return {
        name: garden.name,
        method: textIn(methodName, linkOf(own?.methodId)),
        mark: linked(mark, own?.methodId) ?? null,
        phase: asShown(own?.phase),
        how: asShown(own?.how),
      }
    }),
    bedsAlone: ofSeason.flatMap((own) => {
      const alone = linked(bed, own.bedId)
      if (!alone) return []
      const method = textIn(methodName, own.methodId)
      const garden = textIn(gardenName, alone.gardenId)
      const of = { mark: mark.get(own.methodId) ?? markOf(0), phase: own.phase, how: own.how }
      return [{ garden, bed: alone.name, method, ...of }]
    }),
    placeChoices: rows.gardens.flatMap((garden) => [
      { value: `garden:${garden.id}`, label: garden.name },
      ...rows.bedsThere
        .filter((one) => one.gardenId === garden.id)
        .map((one) => ({ value: `bed:${one.id}`, label: `${garden.name}, ${one.name}` })),
    ]),
    ...whatStands(rows, planted, locale),
    plantings: planted.map((planting) => ({
      id: planting.id,
      name: cropAndCultivar(planting),
      /** Where its day does not stand beside it. */
      called: textIn(names, planting.id),
      garden: textIn(gardenName, linkOf(bed.get(planting.bedId)?.gardenId)),
      bed: nameIfAny(bed.get(planting.bedId)),
      area: formatArea(planting.areaCm2, locale),
      day: formatDay(asShown(planting.sownOn ?? planting.plantedOn), locale),
      set: textIn(setName, linkOf(planting.matchedSetId)),
      seedLot: planting.seedLot,
      seedSaved: savedSaid(planting.seedLot, rows, { names, locale }),
      interplanted: planting.interplanted === 1,
      standsOver: standsOverSaid(planting, rows),
      returns: rows.returns.get(planting.id) ?? null,
      wait: waitSaid(waiting.get(planting.id), locale),
      cleared: planting.clearedOn ? formatDay(planting.clearedOn, locale) : null,
    })),
    layout: layoutSaid(rows, ofSeason),
    nothingMatched: planted.every((planting) => planting.matchedSetId === null),
    clearingChoices: planted
      .filter((one) => one.clearedOn === null)
      .map((one) => ({ value: one.id, label: `${names.get(one.id)} · ${placeOf(rows, one)}` })),
    methodChoices: rows.methods.map(({ id, name }) => ({ value: id, label: name })),
    wayChoices: choices(catalogue.seasons.ways),
    purposeChoices: choices(catalogue.seasons.purposes),
    phaseChoices: choices({
      established: catalogue.seasons.phases.established,
      establishing: catalogue.seasons.phases.establishing,
    }),
    howChoices: choices(catalogue.seasons.hows),
    raisedChoices: rows.gardens.flatMap((garden) =>
      rows.bedsThere
        .filter((one) => one.gardenId === garden.id)
        .map((one) => ({ value: one.id, label: `${garden.name}, ${one.name}` })),
    ),
    cropChoices: rows.crops.map(({ id, name }) => ({ value: id, label: name })),
    bedChoices: gardenParts({ ...rows, beds: rows.bedsThere, laid: ofSeason }).map(({ name, key, beds }) => ({
      garden: name,
      key,
      beds: [{ value: '', label: catalogue.seasons.notHere }, ...beds],
    })),
  }
}

/** Where a lot was saved, as it was last written down: the same name, however it is spaced or capitalised. */
function savedSaid(
  lot: string | null,
  { seedSaved }: SeasonRows,
  { names, locale }: { readonly names: ReadonlyMap<string, string>; readonly locale: string },
): string | null {
  const plain = (name: string | null) => name?.trim().toLowerCase()
  const saved = lot === null ? undefined : seedSaved.findLast((one) => plain(one.lot) === plain(lot))
  const from = saved?.plantingId && names.get(saved.plantingId)
  return saved && from ? catalogue.seasons.seedSaved(from, formatDay(saved.savedOn, locale)) : null
}

function standsOverSaid(planting: PlantingShown, { seasonId, seasons }: SeasonRows): string | null {
  if (planting.standsOverSeasons === 0) return null
  const here = seasonsStood(planting, seasons).find((one) => one.seasonId === seasonId)
  return here?.establishing ? catalogue.seasons.standsOverYet : catalogue.seasons.standsOver
}

/** A garden's name and the bed's in it. */
function placeOf(rows: SeasonRows, { bedId }: { bedId: string }): string {
  const bed = rows.beds.find((one) => one.id === bedId)
  return `${nameIfAny(rows.gardens.find((one) => one.id === bed?.gardenId))}, ${nameIfAny(bed)}`
}

const markOf = (place: number) => ({ place, path: methodMark(place, { x: 8, y: 8, reach: 5.5 }) })

/** One line for what was planted alike; what stands otherwise, waits or comes back to its bed is a sentence. */
function whatStands(rows: SeasonRows, planted: readonly PlantingShown[], locale: string) {
  const words = catalogue.seasons
  const bed = new Map(rows.beds.map((one) => [one.id, one]))
  const gardenName = new Map(rows.gardens.map((one) => [one.id, one.name]))
  const taking = new Set(planted.map((one) => bed.get(one.bedId)?.gardenId)).size
  const lines = plantedAlike(
    planted.map((one) => ({
      id: one.id,
      name: cropAndCultivar(one),
      cultivarId: one.cultivarId,
      areaCm2: one.areaCm2,
      day: asShown(one.sownOn ?? one.plantedOn),
      clearedOn: one.clearedOn,
      bed: nameIfAny(bed.get(one.bedId)),
      garden: textIn(gardenName, linkOf(bed.get(one.bedId)?.gardenId)),
    })),
  )
  const clearing = (on: string | null) => (on ? formatDay(on, locale) : words.standing)
  const waiting = new Map(rows.waits.map((wait) => [wait.plantingId, wait]))
  return {
    stands: lines.map((line) => [
      formatDay(line.day, locale),
      line.plantings[0].name,
      line.gardens.length === taking ? words.everyGarden(taking) : words.someGardens(line.gardens.length, taking),
      line.bed,
      formatArea(line.areaCm2, locale),
      clearing(line.clearedOn),
    ]),
    apart: lines.flatMap((line) =>
      line.apart.map((one) =>
        words.apart({ ...one, area: formatArea(one.areaCm2, locale), cleared: clearing(one.clearedOn) }),
      ),
    ),
    waits: lines.flatMap((line) =>
      line.plantings.flatMap((one) => {
        const wait = waitSaid(waiting.get(one.id), locale)
        return wait ? [words.waits(one.name, one.garden, words.manureWait(wait))] : []
      }),
    ),
    returning: planted.filter((one) => rows.returns.has(one.id)).length,
  }
}

const choices = (named: Readonly<Record<string, string>>) =>
  Object.entries(named).map(([value, label]) => ({ value, label }))

const waitSaid = (wait: PlantingWait | undefined, locale: string) =>
  wait
    ? {
        input: wait.input,
        days: wait.days,
        notKnown: wait.touchesSoil === null,
        on: formatDay(wait.appliedOn, locale),
        earliest: formatDay(wait.earliest, locale),
      }
    : null

/** What the layout is, as the catalogue's sentence for it reads it. */
function layoutSaid(rows: SeasonRows, laid: SeasonRows['assignments']) {
  const layout = readLayout(rows, laid)
  const units = [...layout.units].map(([id, count]) => ({
    method: nameIfAny(rows.methods.find((one) => one.id === id)),
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
