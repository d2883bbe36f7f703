import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import { z } from 'zod'
import { constraintOf } from '../db/constraint.ts'
import type { Tx } from '../db/database.ts'
import { newId } from '../db/new-id.ts'
import { holdClosings } from '../diary/week.queries.ts'
import { applicationsOf } from '../inputs/applications.queries.ts'
import { textIn } from '../lookups/unsaid.ts'
import { formatArea } from '../quantities/formatting.ts'
import { namesOfPlantings } from '../seasons/planting-names.queries.ts'
import { plantingsOf, seasonIsClosed } from '../seasons/seasons.queries.ts'
import { type RefusedForm, readForm, refuseForm } from '../web/form.ts'
import { notFound, Problem } from '../web/problem.ts'
import { wordsHere } from '../web/words-here.ts'
import { closedWeekOf, isSealed } from './following.queries.ts'
import { hangingOn } from './hanging.queries.ts'
import { joinPlantings } from './joining.queries.ts'
import { parted, partWays } from './parted.ts'
import { isPartedAlready, partPlanting } from './parting.queries.ts'
import { plantingAlone, plantingToCorrect } from './planting.queries.ts'
import { joinForm, partForm } from './rearranging.form.ts'
import { choiceOf, linesWritten } from './rearranging.page.ts'

const words = () => wordsHere().settingRight
interface PlantingRoute {
  readonly Params: { readonly planting: string }
}
type PlantingRequest = FastifyRequest<PlantingRoute>
type Refused = RefusedForm & { readonly form: 'join' | 'part' }
type Errors = Record<string, string>

const pathOf = (request: PlantingRequest) =>
  `/g/${request.member.group.slug}/plantings/${request.params.planting}/rearranging`

/** Two plantings that are one, and one that is two: each with all that hangs on it, in one transaction. */
export function rearrangingRoutes(app: FastifyInstance): void {
  const address = '/g/:group/plantings/:planting/rearranging'
  app.get<PlantingRoute>(address, { config: { access: 'keeper' } }, (request, reply) => show(request, reply, null))

  app.post<PlantingRoute>(`${address}/joined`, { config: { access: 'keeper' } }, async (request, reply) => {
    const form = readForm(joinForm, request.body)
    if (form.kind === 'refused') return show(request, reply, { form: 'join', ...form })
    return answered(
      request,
      reply,
      'join',
      await saved(request, form.value.closedReason, (tx) => join(tx, request, form.value)),
    )
  })

  app.post<PlantingRoute>(`${address}/parted`, { config: { access: 'keeper' } }, async (request, reply) => {
    const form = readForm(partForm(request.member.group.areaUnit), request.body)
    if (form.kind === 'refused') return show(request, reply, { form: 'part', ...form })
    return answered(
      request,
      reply,
      'part',
      await saved(request, form.value.closedReason, (tx) => part(tx, request, form.value)),
    )
  })
}

async function answered(request: PlantingRequest, reply: FastifyReply, form: 'join' | 'part', errors: Errors | string) {
  if (typeof errors !== 'string') return show(request, reply, { form, ...refuseForm(request.body, errors) })
  const notice = form === 'join' ? words().joined : words().parted
  return reply.backTo(`/g/${request.member.group.slug}/seasons/${errors}`, notice)
}

/** The season that was written in, or what a field says. */
async function saved(
  request: PlantingRequest,
  reason: string | null | undefined,
  work: (tx: Tx) => Promise<Errors | string>,
): Promise<Errors | string> {
  try {
    return await request.write(work, reason ?? wordsHere().correcting.reasonKept)
  } catch (error) {
    if (constraintOf(error) !== 'plantings_fit_their_bed') throw error
    return { areaCm2: wordsHere().seasons.bedFull, ground: wordsHere().seasons.bedFull }
  }
}

async function join(tx: Tx, request: PlantingRequest, given: z.output<typeof joinForm>): Promise<Errors | string> {
  const { group } = request.member
  await holdClosings(tx, group.id)
  const kept = await standing(tx, request)
  const other = (await alikeOf(tx, kept)).find((one) => one.id === given.otherId)
  if (!other) return { otherId: wordsHere().fields.notChosen }
  if (kept.version !== given.version) throw new Problem('changed-meanwhile')
  const plantingIds = [kept.id, other.id]
  if (await isSealed(tx, group.id, plantingIds)) return { otherId: words().sealed }
  if (!given.closedReason && (await seasonIsClosed(tx, kept)))
    return { closedReason: wordsHere().correcting.closedAsks }
  const reason = given.closedReason ?? words().joinedReason
  const done = await joinPlantings(tx, { kept, other, ground: given.ground, reason })
  if (!done) throw new Problem('changed-meanwhile')
  return kept.seasonId
}

async function part(
  tx: Tx,
  request: PlantingRequest,
  given: z.output<ReturnType<typeof partForm>>,
): Promise<Errors | string> {
  const { group, personId } = request.member
  await holdClosings(tx, group.id)
  const planting = await standing(tx, request)
  if (await isPartedAlready(tx, group.id, given.id)) return planting.seasonId
  if (planting.version !== given.version) throw new Problem('changed-meanwhile')
  const entries = linesOf(await hangingOn(tx, group.id, [planting.id])).map((one) => one.id)
  const { areaCm2, plants, gardenOfBed } = planting
  const sealed = await isSealed(tx, group.id, [planting.id])
  const found = parted({ areaCm2, plants, gardenOfBed, sealed, entries }, given)
  if (found.kind === 'refused') return { [found.field]: sentences()[found.code] }
  const gardenIds = [gardenOfBed.get(planting.bedId), found.part.gardenId].filter((one) => one !== undefined)
  const leaves = gardenIds[0] !== gardenIds[1]
  const closed =
    (await seasonIsClosed(tx, planting)) ||
    (leaves && (await closedWeekOf(tx, group.id, { plantingIds: [planting.id], gardenIds })))
  if (closed && !given.closedReason) return { closedReason: wordsHere().correcting.closedAsks }
  const { id, bedId } = given
  const reason = given.closedReason ?? words().partedReason
  const whole = await plantingAlone(tx, group.id, planting.id)
  const done = await partPlanting(tx, { id, bedId, planting: whole, parted: found, createdBy: personId, reason })
  if (!done) throw new Problem('changed-meanwhile')
  return planting.seasonId
}

const sentences = () => ({
  notChosen: wordsHere().fields.notChosen,
  sealed: words().sealed,
  noLess: words().noLess,
  howManyPlants: words().howManyPlants,
  morePlants: words().morePlants,
  notSaid: words().sayWhere,
})

const linesOf = (hanging: Awaited<ReturnType<typeof hangingOn>>) =>
  [hanging.weights, hanging.crates, hanging.losses, hanging.labour, hanging.loads, hanging.notes, hanging.counts].flat()

async function standing(tx: Tx, request: PlantingRequest) {
  const id = z.uuid().safeParse(request.params.planting)
  const row = id.success ? await plantingToCorrect(tx, request.member.group.id, id.data) : undefined
  if (!row) throw notFound()
  return row
}

/** The same cultivar in the same bed and season. */
async function alikeOf(tx: Tx, planting: Awaited<ReturnType<typeof standing>>) {
  return (await plantingsOf(tx, planting.groupId)).filter(
    (one) =>
      one.id !== planting.id &&
      one.bedId === planting.bedId &&
      one.seasonId === planting.seasonId &&
      one.cultivarId === planting.cultivarId,
  )
}

async function show(request: PlantingRequest, reply: FastifyReply, refused: Refused | null) {
  const { group } = request.member
  const rows = await request.read(async (tx) => {
    const planting = await standing(tx, request)
    const hanging = await hangingOn(tx, group.id, [planting.id])
    const loads = new Map(
      (await applicationsOf(tx, group.id)).map((one) => [one.id, `${one.input.unit} ${one.input.name}`]),
    )
    const names = await namesOfPlantings(tx, group.id)
    return {
      planting,
      hanging,
      loads,
      names,
      alike: await alikeOf(tx, planting),
      closed: await seasonIsClosed(tx, planting),
    }
  })
  const { planting, hanging } = rows
  const of = (form: Refused['form']) => {
    const mine = refused?.form === form ? refused : null
    const asksWhy = rows.closed || mine?.errors.closedReason !== undefined
    return { typed: mine?.typed ?? { id: newId() }, errors: mine?.errors ?? {}, open: mine !== null, asksWhy }
  }
  const others = rows.alike.map((one) => choiceOf(one, textIn(rows.names, one.id), group.locale))
  const blank = { value: '', label: words().choose }
  const waysSaid = partWays.map((value) => ({ value, label: words().ways[value] }))
  const page = {
    address: pathOf(request),
    back: `/g/${group.slug}/correct/plantings/${planting.id}`,
    name: planting.name,
    version: planting.version,
    area: formatArea(planting.areaCm2, group.locale),
    plants: planting.plants,
    join: of('join'),
    part: of('part'),
    others,
    otherChoices: [blank, ...others],
    grounds: (['once', 'each'] as const).map((value) => ({ value, label: words().grounds[value] })),
    bedChoices: [blank, ...planting.bedChoices],
    lines: linesWritten(hanging, rows.loads, group.locale).map(({ id, said }) => ({ name: `line-${id}`, said })),
    ways: waysSaid,
    lineWays: [{ value: '', label: words().asAbove }, ...waysSaid],
  }
  const status = refused ? 422 : 200
  return reply.page('setting-right/rearrange', page, { title: words().title(planting.name), status })
}
