import type { z } from 'zod'
import { bedsOf } from '../gardens/gardens.queries.ts'
import { formatArea, formatKilograms } from '../quantities/formatting.ts'
import { cropsOf, type PlantingRow, plantingsOf, seasonsOf } from '../seasons/seasons.queries.ts'
import { saidOf } from '../web/form.ts'
import { catalogue } from '../words/catalogue.ts'
import type { harvestForm, lossForm, sharedHarvestForm } from './week.form.ts'
import { containersOf, entriesOfWeek, saveHarvest, saveLoss } from './week.queries.ts'
import { isMuch, standingRefused } from './week-rules.ts'
import { anyClosed, dayWrong, type Errors, type Writing } from './writing.routes.ts'

const words = catalogue.diary

type Harvest = z.output<ReturnType<typeof harvestForm>>
type SharedHarvest = z.output<ReturnType<typeof sharedHarvestForm>>
type Weighing = Omit<Harvest, 'plantingId'>

/** One planting's weighing. */
export async function enterHarvest(at: Writing, given: Harvest): Promise<Errors | void> {
  const common = await weighed(at, given, [given.plantingId], 'plantingId')
  if ('errors' in common) return common.errors
  if (!given.surely && (await standsAlready(at, given.id, given.plantingId, common.entry)))
    return { surely: words.sameAsk }
  const planting = { plantingId: given.plantingId, shareRule: null }
  return saidOf(await saveHarvest(at.tx, at.author, { ...common.entry, ...planting }, []))
}

/** The same planting, day and weights under another id: it may be a form sent again by hand. */
async function standsAlready(at: Writing, id: string, plantingId: string, entry: Weighed): Promise<boolean> {
  const { harvests } = await entriesOfWeek(at.tx, at.author.groupId, at.week)
  return harvests.some(
    (one) =>
      one.id !== id &&
      one.plantingId === plantingId &&
      one.harvestedOn === entry.harvestedOn &&
      one.marketableG === entry.marketableG &&
      one.unmarketableG === entry.unmarketableG,
  )
}

interface Weighed {
  readonly harvestedOn: string
  readonly marketableG: number
  readonly unmarketableG: number
}

/** One crate from several plantings, kept whole and divided by a stated rule when figures are made. */
export async function enterSharedHarvest(at: Writing, given: SharedHarvest): Promise<Errors | void> {
  const common = await weighed(at, given, given.plantingIds, 'plantingIds')
  if ('errors' in common) return common.errors
  if (given.shareRule === 'plants' && common.from.some((one) => one.plants === null))
    return { plantingIds: words.plantsMissing(common.from.find((one) => one.plants === null)?.crop ?? '') }
  const shares = given.plantingIds.map((plantingId) => ({ plantingId, share: given.shares.get(plantingId) ?? null }))
  if (given.shareRule === 'given' && shares.every((one) => !one.share)) return { plantingIds: words.sharesMissing }
  const crate = { plantingId: null, shareRule: given.shareRule }
  return saidOf(await saveHarvest(at.tx, at.author, { ...common.entry, ...crate }, shares))
}

/** What holds of every weighing: the day, the plantings, the closing, the container, the amount. */
async function weighed(at: Writing, given: Weighing, plantingIds: readonly string[], field: string) {
  const wrongDay = dayWrong(at, given.harvestedOn)
  if (wrongDay) return { errors: { harvestedOn: wrongDay } }
  const from = (await plantingsOf(at.tx, at.author.groupId)).filter((planting) => plantingIds.includes(planting.id))
  if (from.length !== new Set(plantingIds).size) return { errors: { [field]: catalogue.fields.notChosen } }
  const standing = from.map((planting) => standingRefused(planting, given.harvestedOn)).find(Boolean)
  if (standing) return { errors: { harvestedOn: words[standing] } }
  if (new Set(from.map((planting) => planting.seasonId)).size > 1) return { errors: { [field]: words.twoSeasons } }
  const beds = await bedsOf(at.tx, at.author.groupId)
  const gardenIds = from.map((planting) => beds.find((bed) => bed.id === planting.bedId)?.gardenId ?? '')
  if (await anyClosed(at, gardenIds, 'weights')) return { errors: { [field]: words.isClosed } }
  const net = await netOf(at, given)
  if ('errors' in net) return net
  const ask = given.surely ? undefined : await askOf(at, net.marketableG + net.unmarketableG, from)
  if (ask) return { errors: { surely: ask } }
  return {
    from,
    entry: {
      ...{ id: given.id, seasonId: from[0]?.seasonId ?? '', harvestedOn: given.harvestedOn, isoWeek: at.week },
      ...{ unmarketableReason: net.unmarketableG > 0 ? given.why : null, containerId: given.containerId },
      ...{ pieces: given.pieces, source: given.source, ...net },
    },
  }
}

async function askOf(at: Writing, grams: number, from: readonly PlantingRow[]): Promise<string | undefined> {
  const limits = new Map((await cropsOf(at.tx, at.author.groupId)).map((crop) => [crop.id, crop.askAboveGPerM2]))
  const picked = from.map(({ areaCm2, cropId }) => ({ areaCm2, askAboveGPerM2: limits.get(cropId) ?? null }))
  if (!isMuch(grams, picked)) return undefined
  const area = from.reduce((sum, one) => sum + one.areaCm2, 0)
  const { locale } = at.request.member.group
  return words.muchAsk(formatKilograms(grams, locale), formatArea(area, locale), from[0]?.crop ?? '')
}

type Net = { marketableG: number; unmarketableG: number; grossG: number | null } | { errors: Errors }

/** The container's empty weight comes off the marketable weight, or off the other where only that was weighed. */
async function netOf(at: Writing, given: Weighing): Promise<Net> {
  const [marketable, unmarketable] = [given.marketable ?? 0, given.unmarketable ?? 0]
  if (given.marketable === null && given.unmarketable === null) return { errors: { marketable: words.nothingWeighed } }
  if (unmarketable > 0 && given.why === null) return { errors: { why: words.whyMissing } }
  if (unmarketable === 0 && given.why !== null) return { errors: { why: words.whyOfNothing } }
  if (given.containerId === null) return { marketableG: marketable, unmarketableG: unmarketable, grossG: null }
  const container = (await containersOf(at.tx, at.author.groupId)).find((one) => one.id === given.containerId)
  if (!container) return { errors: { containerId: catalogue.fields.notChosen } }
  const gross = given.marketable ?? unmarketable
  if (gross < container.tareG) return { errors: { marketable: words.lessThanTare } }
  return given.marketable === null
    ? { marketableG: 0, unmarketableG: gross - container.tareG, grossG: gross }
    : { marketableG: gross - container.tareG, unmarketableG: unmarketable, grossG: gross }
}

export async function enterLoss(at: Writing, given: z.output<typeof lossForm>): Promise<Errors | void> {
  const wrongDay = dayWrong(at, given.lostOn)
  if (wrongDay) return { lostOn: wrongDay }
  const planting = (await plantingsOf(at.tx, at.author.groupId)).find((one) => one.id === given.plantingId)
  if (!planting) return { plantingId: catalogue.fields.notChosen }
  const refused = standingRefused(planting, given.lostOn)
  if (refused) return { lostOn: words[refused] }
  if (given.outside && (await seasonClosed(at, planting.seasonId))) return { outside: words.outsideTooLate }
  const { percent, outside, ...loss } = given
  const shares = { sharePermille: 10 * percent, outsideMethod: outside }
  return saidOf(await saveLoss(at.tx, at.author, { ...loss, ...shares, isoWeek: at.week }))
}

/** Whether a loss lay outside the method is said before the season closes, and not when its result is known. */
export async function seasonClosed(at: Pick<Writing, 'tx' | 'author'>, seasonId: string): Promise<boolean> {
  const season = (await seasonsOf(at.tx, at.author.groupId)).find((one) => one.id === seasonId)
  return season?.closedAt != null
}
