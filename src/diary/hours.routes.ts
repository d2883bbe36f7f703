import type { z } from 'zod'
import { bedsOf, gardensOf } from '../gardens/gardens.queries.ts'
import { deliveriesOf } from '../inputs/deliveries.queries.ts'
import { assignmentsOf, plantingsOf } from '../seasons/seasons.queries.ts'
import { saidOf } from '../web/form.ts'
import { catalogue } from '../words/catalogue.ts'
import type { hoursForm, sharedHoursForm } from './week.form.ts'
import { saveLabour } from './week.queries.ts'
import { type Ground, isLong, phaseOf } from './week-rules.ts'
import { anyClosed, dayWrong, type Errors, seasonFor, type Writing } from './writing.routes.ts'

const words = catalogue.diary

type Hours = z.output<typeof hoursForm>
type SharedHours = z.output<typeof sharedHoursForm>

/** Hours on a garden, a bed or a planting. */
export async function enterHours(at: Writing, given: Hours): Promise<Errors | void> {
  const [kind, id = ''] = given.place.split(':') as ['garden' | 'bed' | 'planting', string]
  const ground = await groundAt(at, kind, id)
  if (!ground) return { place: catalogue.fields.notChosen }
  const common = await checked(at, given, [ground], 'place')
  if ('errors' in common) return common.errors
  const where = { gardenId: null, bedId: null, plantingId: null, [`${kind}Id`]: id }
  return saidOf(await saveLabour(at.tx, at.author, { ...common.entry, ...where, shareRule: null }, []))
}

/** One stretch of work over several gardens, kept whole and divided by a stated rule when figures are made. */
export async function enterSharedHours(at: Writing, given: SharedHours): Promise<Errors | void> {
  const gardens = await gardensOf(at.tx, at.author.groupId)
  if (given.gardenIds.some((id) => !gardens.some((one) => one.id === id)))
    return { gardenIds: catalogue.fields.notChosen }
  const shares = given.gardenIds.map((gardenId) => ({ gardenId, share: given.shares.get(gardenId) ?? null }))
  if (given.shareRule === 'given' && shares.every((one) => !one.share)) return { gardenIds: words.sharesMissing }
  const ground = given.gardenIds.map((gardenId) => ({ gardenId, bedId: null }))
  const common = await checked(at, given, ground, 'gardenIds')
  if ('errors' in common) return common.errors
  const nowhere = { gardenId: null, bedId: null, plantingId: null }
  return saidOf(await saveLabour(at.tx, at.author, { ...common.entry, ...nowhere, shareRule: given.shareRule }, shares))
}

async function groundAt(at: Writing, kind: 'garden' | 'bed' | 'planting', id: string): Promise<Ground | undefined> {
  if (kind === 'garden') {
    const found = (await gardensOf(at.tx, at.author.groupId)).some((garden) => garden.id === id)
    return found ? { gardenId: id, bedId: null } : undefined
  }
  const plantings = kind === 'planting' ? await plantingsOf(at.tx, at.author.groupId) : []
  const bedId = kind === 'bed' ? id : plantings.find((planting) => planting.id === id)?.bedId
  const bed = (await bedsOf(at.tx, at.author.groupId)).find((one) => one.id === bedId)
  return bed && { gardenId: bed.gardenId, bedId: bed.id }
}

type Common = Omit<Hours, 'place'>

/** "2 x 1:30" says how many people; otherwise the field for it does, each that long. */
function workOf({ time, people }: Common) {
  const several = time.people === 1 ? (people ?? 1) : 1
  return { personMinutes: time.personMinutes * several, people: time.people * several }
}

/** What holds of all hours: the day, the season, the closing, the phase, the length. */
async function checked(at: Writing, given: Common, ground: readonly Ground[], field: string) {
  const wrongDay = given.workedOn && dayWrong(at, given.workedOn)
  if (wrongDay) return { errors: { workedOn: wrongDay } }
  const season = await seasonFor(at, given.workedOn, given.seasonId)
  if (!season) return { errors: { seasonId: words.noSeason } }
  const gardenIds = ground.map((one) => one.gardenId)
  if (await anyClosed(at, gardenIds, 'hours')) return { errors: { [field]: words.isClosed } }
  if (!(await isLoad(at, given.deliveryId))) return { errors: { deliveryId: catalogue.fields.notChosen } }
  const phase = given.phase ?? phaseOf(await assignmentsOf(at.tx, at.author.groupId), season.id, ground)
  if (!phase) return { errors: { phase: words.phaseUnknown } }
  const { personMinutes, people } = workOf(given)
  if (isLong(personMinutes, people, given.workedOn !== null) && !given.surely)
    return { errors: { surely: words.longAsk } }
  return {
    entry: {
      ...{ id: given.id, seasonId: season.id, isoWeek: at.week, workedOn: given.workedOn },
      ...{ task: given.task, phase, personMinutes, people },
      ...{ who: given.who, effort: given.effort, source: given.source, deliveryId: given.deliveryId },
    },
  }
}

const isLoad = async (at: Writing, id: string | null) =>
  id === null || (await deliveriesOf(at.tx, at.author.groupId)).some((one) => one.id === id)
