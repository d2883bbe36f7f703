import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import type { Tx } from '../db/database.ts'
import { newId } from '../db/new-id.ts'
import { dayIn } from '../quantities/dates.ts'
import { formatDay, formatMoney, formatNumber } from '../quantities/formatting.ts'
import { seasonsOf } from '../seasons/seasons.queries.ts'
import { type RefusedForm, readForm, refuseForm } from '../web/form.ts'
import { catalogue } from '../words/catalogue.ts'
import {
  applicationsOf,
  deliveryForSpreading,
  type NewApplication,
  placesOf,
  saveApplication,
} from './applications.queries.ts'
import { deliveriesOf, saveDelivery } from './deliveries.queries.ts'
import { deliveryForm, inputKinds, spreadingForm } from './inputs.form.ts'

const words = catalogue.inputs
const today = (request: FastifyRequest) => dayIn(request.member.group.timeZone, new Date())

export function inputRoutes(app: FastifyInstance): void {
  app.get('/g/:group/inputs', { config: { access: 'reader' } }, (request, reply) => show(request, reply, null))

  app.post('/g/:group/inputs/deliveries', { config: { access: 'recorder' } }, async (request, reply) => {
    const { id, slug, currency } = request.member.group
    const form = readForm(deliveryForm(currency), request.body)
    if (form.kind === 'refused') return show(request, reply, { form: 'deliveries', ...form })
    const ahead = form.value.deliveredOn > today(request)
    if (ahead)
      return show(request, reply, { form: 'deliveries', ...refuseForm(request.body, { deliveredOn: words.dayAhead }) })
    await request.write((tx) => saveDelivery(tx, id, request.member.personId, { ...form.value, inputId: newId() }))
    return reply.backTo(`/g/${slug}/inputs`, words.delivered)
  })

  app.post('/g/:group/inputs/spreadings', { config: { access: 'recorder' } }, async (request, reply) => {
    const form = readForm(spreadingForm, request.body)
    if (form.kind === 'refused') return show(request, reply, { form: 'spreadings', ...form })
    const [kind, id] = form.value.place.split(':') as ['garden' | 'bed', string]
    const errors = await request.write((tx) => spreadOrSay(tx, request, { ...form.value, place: { kind, id } }))
    if (errors) return show(request, reply, { form: 'spreadings', ...refuseForm(request.body, errors) })
    return reply.backTo(`/g/${request.member.group.slug}/inputs`, words.applied)
  })
}

async function spreadOrSay(
  tx: Tx,
  request: FastifyRequest,
  given: NewApplication,
): Promise<Record<string, string> | null> {
  const { id: groupId, locale } = request.member.group
  if (given.appliedOn > today(request)) return { appliedOn: words.dayAhead }
  const delivery = await deliveryForSpreading(tx, groupId, given.deliveryId, given.id)
  if (!delivery) return { deliveryId: catalogue.fields.notChosen }
  if (given.appliedOn < delivery.deliveredOn) return { appliedOn: words.beforeDelivery }
  const left = delivery.leftThousandths
  if (given.quantityThousandths > left)
    return { quantityThousandths: words.noneLeft(formatNumber(left / 1000, locale, 1)) }
  if (!(await seasonsOf(tx, groupId)).some((season) => season.id === given.seasonId))
    return { seasonId: catalogue.fields.notChosen }
  const known = (await placesOf(tx, groupId)).some(
    (place) => place.kind === given.place.kind && place.id === given.place.id,
  )
  if (!known) return { place: catalogue.fields.notChosen }
  await saveApplication(tx, groupId, request.member.personId, given)
  return null
}

async function show(request: FastifyRequest, reply: FastifyReply, refused: (RefusedForm & { form: string }) | null) {
  const { group, role } = request.member
  const rows = await request.read(async (tx) => ({
    deliveries: await deliveriesOf(tx, group.id),
    spreadings: await applicationsOf(tx, group.id),
    places: await placesOf(tx, group.id),
    seasons: await seasonsOf(tx, group.id),
  }))
  const amount = (thousandths: number, unit: string) =>
    `${formatNumber(thousandths / 1000, group.locale, thousandths % 1000 ? 2 : 0)} ${unit}`
  const price = (minor: number | null) => (minor === null ? null : formatMoney(minor, group.locale, group.currency))
  const page = {
    deliveries: rows.deliveries.map((one) => ({
      ...one,
      day: formatDay(one.deliveredOn, group.locale),
      quantity: amount(one.quantityThousandths, one.unit),
      left: amount(one.quantityThousandths - one.spreadThousandths, one.unit),
      price: price(one.priceMinor),
      delivery: price(one.deliveryPriceMinor),
    })),
    spreadings: rows.spreadings.map((one) => ({
      ...one,
      day: formatDay(one.appliedOn, group.locale),
      quantity: amount(one.quantityThousandths, one.unit),
    })),
    places: rows.places,
    seasonChoices: rows.seasons.map(({ id, name }) => ({ value: id, label: name })).reverse(),
    kinds: inputKinds,
    of: (form: string) => ({
      typed: refused?.form === form ? refused.typed : { id: newId() },
      errors: refused?.form === form ? refused.errors : {},
      open: refused?.form === form,
    }),
    mayRecord: role !== 'reader',
  }
  return reply.page('inputs/inputs', page, { title: words.title, status: refused ? 422 : 200 })
}
