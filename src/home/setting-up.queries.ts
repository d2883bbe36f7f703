import type { Tx } from '../db/database.ts'
import { idOf } from '../db/new-id.ts'
import { lyingOn } from '../gardens/areas-held.ts'
import {
  type Author,
  bedsOf,
  gardensOf,
  methodsOf,
  saveBeds,
  saveGarden,
  saveMethod,
  saveSite,
} from '../gardens/gardens.queries.ts'
import {
  cropsOf,
  plantingsOf,
  saveAssignment,
  saveCrop,
  savePlantings,
  saveSeason,
  seasonsOf,
} from '../seasons/seasons.queries.ts'
import { yearOfMethod } from '../seasons/year-of-method.ts'
import { bedArea, cropNamed, type GardensGiven, nameOfSeason, placesInGarden, type SeasonGiven } from './setting-up.ts'

/** What setting up has come to. */
export async function setUpSoFar(tx: Tx, groupId: string) {
  return {
    gardens: await gardensOf(tx, groupId),
    beds: await bedsOf(tx, groupId),
    methods: await methodsOf(tx, groupId),
    seasons: await seasonsOf(tx, groupId),
    crops: await cropsOf(tx, groupId),
    plantings: await plantingsOf(tx, groupId),
  }
}

interface Names {
  /** Of the ground where all gardens stand on one. */
  readonly site: string
  readonly bed: string
}

/**
 * Sites, methods, gardens and beds as one table says them. Ids follow from the form's, so that it adds nothing when
 * sent twice.
 */
export async function saveGardens(tx: Tx, author: Author, { id, ground, rows }: GardensGiven, names: Names) {
  const wanted = Object.values(rows)
  const about = { soil: null, exposure: null }
  if (ground === 'one') await saveSite(tx, author, { id: idOf(id, 'site'), name: names.site, ...about })
  for (const method of new Set(wanted.map((row) => row.method))) {
    const given = { name: method, workingRules: '', establishingSeasons: null }
    await saveMethod(tx, author, { id: idOf(id, 'method', method), ...given })
  }
  for (const { name, grossAreaCm2, beds } of wanted) {
    const siteId = ground === 'one' ? idOf(id, 'site') : idOf(id, 'site', name)
    if (ground === 'apart') await saveSite(tx, author, { id: siteId, name, ...about })
    const gardenId = idOf(id, 'garden', name)
    const garden = { id: gardenId, siteId, name, grossAreaCm2, groundBefore: null, exposure: null, soil: null }
    await saveGarden(tx, author, garden)
    const ofOne = { count: beds.count, areaCm2: bedArea(grossAreaCm2, beds), name: names.bed, thereSince: null }
    await saveBeds(tx, author, { id: idOf(id, 'beds', name), gardenId, ...ofOne })
  }
}

/** By garden: which method it was said to lie under, and since when. */
export type LiesUnder = ReadonlyMap<string, { readonly methodId: string; readonly since: number | null }>

/** The season, what lies on its gardens, and a planting of each crop in every garden, joined to one matched set. */
export async function saveFirstSeason(tx: Tx, author: Author, given: SeasonGiven, lies: LiesUnder): Promise<void> {
  const { id: seasonId, startsOn, endsOn } = given
  const { gardens, beds } = await setUpSoFar(tx, author.groupId)
  const season = { id: seasonId, name: nameOfSeason(startsOn, endsOn), startsOn, endsOn, isUniformYear: 0 }
  await saveSeason(tx, author, season)
  for (const garden of gardens) {
    const under = lies.get(garden.id)
    if (!under) continue
    const year = under.since === null ? 1 : yearOfMethod(under.since, startsOn)
    await saveAssignment(tx, author, seasonId, {
      id: idOf(seasonId, 'lies', garden.id),
      gardenId: garden.id,
      bedId: null,
      methodId: under.methodId,
      phase: year === 1 ? 'establishing' : 'established',
      yearOfMethod: year,
      how: 'choice',
      randomSeed: null,
      surely: true,
    })
  }
  const lines = Object.values(given.rows)
  const said = lines.map((line) => line.areaCm2 ?? null)
  const places = gardens.map((garden) =>
    placesInGarden(
      lyingOn(beds, startsOn).filter((bed) => bed.gardenId === garden.id),
      said,
    ),
  )
  for (const [i, line] of lines.entries()) {
    const here = places.flatMap((ofGarden) => ofGarden[i] ?? [])
    await savePlantings(tx, author, {
      id: idOf(seasonId, 'sown', i),
      seasonId,
      cropId: await cropIdOf(tx, author, seasonId, line.crop),
      cultivar: line.cultivar,
      bedIds: here.map((one) => one.bedId),
      areaCm2: here.map((one) => one.areaCm2),
      how: line.plantedOn ? 'transplanted' : 'direct',
      sownOn: line.sownOn,
      plantedOn: line.plantedOn ?? null,
      plants: null,
      purpose: 'harvest',
      seedLot: null,
      spacing: null,
      interplanted: 0,
    })
  }
}

/** Of the crop with that name; a new one where the list has none. */
async function cropIdOf(tx: Tx, author: Author, seasonId: string, typed: string): Promise<string> {
  const found = cropNamed(await cropsOf(tx, author.groupId), typed)
  if (found) return found.id
  const crop = { id: idOf(seasonId, 'crop', typed), name: typed, family: null, touchesSoil: null }
  await saveCrop(tx, author, crop)
  return crop.id
}
