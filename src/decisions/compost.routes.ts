import type { FastifyInstance, FastifyRequest } from 'fastify'
import type { z } from 'zod'
import { trialRecord } from '../comparison/record/trial-record.queries.ts'
import { minutesByDelivery } from '../diary/week.queries.ts'
import { bedsOf, gardensOf } from '../gardens/gardens.queries.ts'
import { applicationsOf, placesOf } from '../inputs/applications.queries.ts'
import { deliveriesOf } from '../inputs/deliveries.queries.ts'
import { measuresOf } from '../inputs/measures.queries.ts'
import { areaAsTyped, moneyAsTyped } from '../quantities/as-typed.ts'
import { formatDay } from '../quantities/formatting.ts'
import { decimalsOf } from '../quantities/money.ts'
import { cropsOf } from '../seasons/seasons.queries.ts'
import { readForm } from '../web/form.ts'
import { notFound } from '../web/problem.ts'
import { catalogue } from '../words/catalogue.ts'
import { askedOver } from './asked-over.ts'
import { type CompostAsked, compostPage } from './compost.page.ts'
import { carriedOff, compostStart, densities, gardenFor, usualCompost } from './compost-start.ts'
import { compostForm } from './deciding.form.ts'
import { longestLead, orderBy } from './order-day.ts'
import { compostFigures } from './scenario-figures.ts'

const words = catalogue.deciding.compost

export function compostRoutes(app: FastifyInstance): void {
  app.get('/g/:group/decide/compost', { config: { access: 'reader' } }, async (request, reply) => {
    const thought = await thoughtOver(request)
    if (!thought) return reply.page('decisions/compost', { garden: null }, { title: words.title })
    const { garden, rows, start, typed, form } = thought
    const page = {
      garden,
      gardenChoices: rows.gardens.map(({ id, name }) => ({ value: id, label: name })),
      from: fromSaid(start, request.member.group.locale),
      typed,
      errors: form.kind === 'refused' ? form.errors : {},
      result: form.kind === 'refused' ? null : compostPage(askedOf(form.value, thought), request.member.group),
      isKeeper: request.member.role === 'keeper',
    }
    return reply.page('decisions/compost', page, { title: words.title, status: form.kind === 'refused' ? 422 : 200 })
  })

  app.get('/g/:group/decide/compost.json', { config: { access: 'reader' } }, async (request, reply) => {
    const thought = await thoughtOver(request)
    if (!thought) throw notFound()
    if (thought.form.kind === 'refused') return reply.status(422).send({ errors: thought.form.errors })
    return { ...compostFigures(askedOf(thought.form.value, thought)), currency: request.member.group.currency }
  })
}

/** What the record and the address say together; null where no garden has beds. */
async function thoughtOver(request: FastifyRequest) {
  const rows = await compostRows(request)
  const asked = request.query as Record<string, unknown>
  const garden = gardenFor(rows, typeof asked.garden === 'string' ? asked.garden : undefined)
  if (!garden) return null
  const start = compostStart(rows, garden.id)
  const typed = askedOver(startTyped(start, rows.wantedOn, request), asked)
  return { garden, rows, start, typed, form: readForm(compostForm(request.member.group), typed) }
}

async function compostRows(request: FastifyRequest) {
  const { id } = request.member.group
  return request.read(async (tx) => {
    const record = await trialRecord(tx, id)
    return {
      gardens: await gardensOf(tx, id),
      beds: await bedsOf(tx, id),
      seasons: record.seasons,
      plantings: record.plantings,
      wantedOn: aYearAfter(record.seasons.at(-1)?.startsOn),
      deliveries: await deliveriesOf(tx, id),
      spreadings: await applicationsOf(tx, id),
      places: await placesOf(tx, id),
      measures: await measuresOf(tx, id),
      carried: await minutesByDelivery(tx, id),
      crops: await cropsOf(tx, id),
    }
  })
}

type Start = ReturnType<typeof compostStart>

/** The first of the month in which the latest season began, a year on. */
const aYearAfter = (day: string | undefined) => (day ? `${Number(day.slice(0, 4)) + 1}${day.slice(4, 8)}01` : '')

function startTyped(start: Start, wantedOn: string, request: FastifyRequest): Record<string, string> {
  const { currency, areaUnit } = request.member.group
  const money = (minor: number) => moneyAsTyped(minor, decimalsOf(currency))
  const percent = (mgPerKg: number | null, usual: number) =>
    start.analysed ? (mgPerKg === null ? '' : String(mgPerKg / 10_000)) : String(usual)
  const moisture = start.analysed?.moisturePermille ?? null
  return {
    ...{ area: areaAsTyped(start.areaCm2, areaUnit), depthMm: String(start.layer.depthMm), seasons: '5', wantedOn },
    pricePerM3: start.price ? money(start.price.perM3Minor) : '',
    carriage: start.price ? money(start.price.carriageMinor) : '',
    density: String(start.densityKgPerM3 ?? densities.low),
    moisture: String(moisture === null ? usualCompost.moisture : moisture / 10),
    nitrogen: percent(start.analysed?.nitrogenMgPerKg ?? null, usualCompost.nitrogen),
    phosphorus: percent(start.analysed?.phosphorusMgPerKg ?? null, usualCompost.phosphorus),
    potassium: percent(start.analysed?.potassiumMgPerKg ?? null, usualCompost.potassium),
  }
}

/** Where each figure that stands in the form comes from. */
function fromSaid(start: Start, locale: string) {
  const { from } = words
  return {
    depth: start.layer.season === null ? from.depthNone : from.depthOwn(start.layer.season),
    price: start.price?.day ? from.priceOwn(formatDay(start.price.day, locale)) : from.priceNone,
    density: start.densityKgPerM3 === null ? from.densityTable : from.densityOwn,
    analysis: start.analysed === null ? from.analysisTable : from.analysisOwn,
  }
}

type Thought = NonNullable<Awaited<ReturnType<typeof thoughtOver>>>

function askedOf(
  given: z.output<ReturnType<typeof compostForm>>,
  { garden, rows, start, typed }: Omit<Thought, 'form'>,
): CompostAsked {
  const lead = longestLead(rows.deliveries.filter((one) => one.kind === 'compost'))
  return {
    ...given,
    garden: garden.name,
    // A density that was typed over the table's is the person's own.
    densityIsOwn: start.densityKgPerM3 !== null || typed.density !== String(densities.low),
    minutesPerM3: start.minutesPerM3,
    offtake: carriedOff(rows, garden.id),
    order: lead === null || given.wantedOn === null ? null : { leadDays: lead, by: orderBy(given.wantedOn, lead) },
  }
}
