import type { FastifyInstance, FastifyRequest } from 'fastify'
import type { z } from 'zod'
import { recordKeptAt } from '../comparison/record/kept-record.queries.ts'
import { minutesByDelivery } from '../diary/week.queries.ts'
import { bedsOf, gardensOf } from '../gardens/gardens.queries.ts'
import { applicationsOf, placesOf } from '../inputs/applications.queries.ts'
import { deliveriesOf } from '../inputs/deliveries.queries.ts'
import { measuresOf } from '../inputs/measures.queries.ts'
import { keysOf } from '../lookups/keys.ts'
import { asShown } from '../lookups/unsaid.ts'
import { areaAsTyped, moneyAsTyped } from '../quantities/as-typed.ts'
import { dateOf, dayIn, type IsoDate } from '../quantities/dates.ts'
import { formatDay } from '../quantities/formatting.ts'
import { decimalsOf } from '../quantities/money.ts'
import { cropsOf } from '../seasons/seasons.queries.ts'
import { spreadingLimitsOf } from '../soil/limits.queries.ts'
import { limitsHeld } from '../soil/limits.ts'
import { readForm } from '../web/form.ts'
import { notFound } from '../web/problem.ts'
import { queryOf } from '../web/query-of.ts'
import { wordsHere } from '../web/words-here.ts'
import { askedOver } from './asked-over.ts'
import { type CompostAsked, compostPage } from './compost.page.ts'
import {
  bedsOfGarden,
  carriedOff,
  compostStart,
  densities,
  gardenFor,
  type Product,
  productFor,
  productsOf,
} from './compost-start.ts'
import { compostForm } from './deciding.form.ts'
import { assumptionsIn } from './field-assumed.ts'
import { longestLead, orderBy } from './order-day.ts'
import { compostFigures } from './scenario-figures.ts'
import { toLog } from './to-log.ts'

const words = () => wordsHere().deciding.compost

export function compostRoutes(app: FastifyInstance): void {
  app.get('/g/:group/decide/compost/layer', { config: { access: 'reader' } }, async (request, reply) => {
    const thought = await thoughtOver(request)
    if (!thought) return reply.page('decisions/compost', { garden: null }, { title: words().title })
    const { garden, product, products, rows, start, typed, form } = thought
    const result = form.kind === 'refused' ? null : compostPage(askedOf(form.value, thought), request.member.group)
    const page = {
      garden,
      gardenChoices: rows.gardens.map(({ id, name }) => ({ value: id, label: name })),
      product: asShown(product?.inputId),
      productChoices: products.map(({ inputId, name }) => ({ value: inputId, label: name })),
      from: fromSaid(start, product, request.member.group.locale),
      typed,
      errors: form.kind === 'refused' ? form.errors : {},
      result,
      logAddress: result && request.member.role === 'keeper' ? logAddressOf(request, thought, result) : null,
    }
    return reply.page('decisions/compost', page, { title: words().title, status: form.kind === 'refused' ? 422 : 200 })
  })

  app.get('/g/:group/decide/compost/layer.json', { config: { access: 'reader' } }, async (request, reply) => {
    const thought = await thoughtOver(request)
    if (!thought) throw notFound()
    if (thought.form.kind === 'refused') return reply.status(422).send({ errors: thought.form.errors })
    return { ...compostFigures(askedOf(thought.form.value, thought)), currency: request.member.group.currency }
  })
}

function logAddressOf(
  { url, member }: FastifyRequest,
  { garden, product, typed }: Thought,
  { decision, answer, expected, volumeMl }: NonNullable<ReturnType<typeof compostPage>>,
) {
  const { fields, title } = words()
  const labels = { ...fields, depthMm: fields.depth, pricePerM3: fields.price }
  return toLog(member.group, {
    decision,
    question: title,
    finding: answer,
    expected,
    from: url,
    assumptions: assumptionsIn(keysOf(labels).map((name) => ({ label: labels[name], value: typed[name] }))),
    figure: { measure: 'spread', value: volumeMl / 1_000_000, gardenId: garden.id, inputId: product?.inputId ?? null },
  })
}

/** What the record and the address say together; null where no garden has beds. */
async function thoughtOver(request: FastifyRequest) {
  const rows = await compostRows(request)
  const asked = queryOf(request)
  const garden = gardenFor(rows, typeof asked.garden === 'string' ? asked.garden : undefined)
  if (!garden) return null
  const products = productsOf(rows.deliveries)
  const product = productFor(products, typeof asked.product === 'string' ? asked.product : undefined)
  const start = compostStart(rows, garden.id, product)
  const typed = askedOver(startTyped(start, product, { wantedOn: rows.wantedOn, request }), asked)
  const today = dayIn(request.member.group.timeZone, new Date())
  return {
    garden,
    product,
    products,
    today,
    rows,
    start,
    typed,
    form: readForm(compostForm(request.member.group), typed),
  }
}

export async function compostRows(request: FastifyRequest) {
  const { id } = request.member.group
  return request.readAtOnce(async (tx) => {
    const { record } = await recordKeptAt(tx, request)
    return {
      gardens: await gardensOf(tx, id),
      beds: await bedsOf(tx, id),
      seasons: record.seasons,
      plantings: record.plantings,
      wantedOn: nextStart(record.seasons.at(-1)?.startsOn, dayIn(request.member.group.timeZone, new Date())),
      deliveries: await deliveriesOf(tx, id),
      spreadings: await applicationsOf(tx, id),
      places: await placesOf(tx, id),
      measures: await measuresOf(tx, id),
      carried: await minutesByDelivery(tx, id),
      crops: await cropsOf(tx, id),
      limits: await spreadingLimitsOf(tx, id),
    }
  })
}

type Start = ReturnType<typeof compostStart>

/** The first of the month in which the latest season began, in the first year in which that is still to come. */
export function nextStart(startsOn: IsoDate | undefined, today: IsoDate): IsoDate | '' {
  if (!startsOn) return ''
  const [year, month] = [Number(today.slice(0, 4)), Number(startsOn.slice(5, 7))]
  const inThisYear = dateOf(year, month, 1)
  return inThisYear > today ? inThisYear : dateOf(year + 1, month, 1)
}

interface Asking {
  readonly wantedOn: IsoDate | ''
  readonly request: FastifyRequest
}

/** Usual figures are of compost: of anything else the group's own analysis stands, or nothing. */
function startTyped(start: Start, product: Product | null, { wantedOn, request }: Asking): Record<string, string> {
  const isCompost = product === null || product.kind === 'compost'
  const { currency, areaUnit } = request.member.group
  const money = (minor: number) => moneyAsTyped(minor, decimalsOf(currency))
  const percent = (of: 'nitrogenMgPerKg' | 'phosphorusMgPerKg' | 'potassiumMgPerKg') => {
    const mgPerKg = start.made[of]
    return mgPerKg === null ? '' : String(mgPerKg / 10_000)
  }
  const moisture = start.made.moisturePermille
  return {
    area: areaAsTyped(start.areaCm2, areaUnit),
    depthMm: `${start.layer.depthMm} mm`,
    seasons: '5',
    wantedOn,
    pricePerM3: start.price ? money(start.price.perM3Minor) : '',
    carriage: start.price ? money(start.price.carriageMinor) : '',
    density: String(start.densityKgPerM3 ?? (isCompost ? densities.low : '')),
    moisture: moisture === null ? '' : String(moisture / 10),
    nitrogen: percent('nitrogenMgPerKg'),
    phosphorus: percent('phosphorusMgPerKg'),
    potassium: percent('potassiumMgPerKg'),
  }
}

/** Where each figure that stands in the form comes from. */
function fromSaid(start: Start, product: Product | null, locale: string) {
  const { from } = words()
  const { published, nitrogenMgPerKg, phosphorusMgPerKg, potassiumMgPerKg } = start.made
  const isAnalysed = [nitrogenMgPerKg, phosphorusMgPerKg, potassiumMgPerKg].some((one) => one !== null)
  const ownAnalysis = isAnalysed ? from.analysisOwn : from.analysisNone
  const isCompost = product === null || product.kind === 'compost'
  return {
    depth: start.layer.season === null ? from.depthNone : from.depthOwn(start.layer.season),
    price: start.price?.day ? from.priceOwn(formatDay(start.price.day, locale)) : from.priceNone,
    density: start.densityKgPerM3 !== null ? from.densityOwn : isCompost ? from.densityTable : from.densityNone,
    analysis: published ? from.analysisTable(wordsHere().ledger.sources[published.source]) : ownAnalysis,
  }
}

type Thought = NonNullable<Awaited<ReturnType<typeof thoughtOver>>>

function askedOf(
  given: z.output<ReturnType<typeof compostForm>>,
  { garden, product, rows, start, typed, today }: Omit<Thought, 'form'>,
): CompostAsked {
  const lead = longestLead(rows.deliveries.filter((one) => one.inputId === product?.inputId))
  return {
    ...given,
    garden: garden.name,
    product,
    today,
    limits: limitsHeld(rows.limits),
    // A density that was typed over the table's is the person's own.
    densityIsOwn: start.densityKgPerM3 !== null || typed.density !== String(densities.low),
    minutesPerM3: start.minutesPerM3,
    offtake: carriedOff(rows, bedsOfGarden(rows, garden.id)),
    order: lead === null || given.wantedOn === null ? null : { leadDays: lead, by: orderBy(given.wantedOn, lead) },
  }
}
