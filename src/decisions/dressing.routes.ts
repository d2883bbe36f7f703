import type { FastifyInstance, FastifyRequest } from 'fastify'
import { methodsOf } from '../gardens/gardens.queries.ts'
import { heapsOf } from '../inputs/heaps.queries.ts'
import { plantStandsOf } from '../notes/plant-stands.queries.ts'
import { dayIn } from '../quantities/dates.ts'
import { assignmentsOf, plantingsOf } from '../seasons/seasons.queries.ts'
import { limitsHeld } from '../soil/limits.ts'
import { soilTestsOf } from '../soil/soil.queries.ts'
import { readForm } from '../web/form.ts'
import { notFound } from '../web/problem.ts'
import { queryOf } from '../web/query-of.ts'
import { wordsHere } from '../web/words-here.ts'
import { type Answered, unanswered } from './answered.ts'
import { askedOver } from './asked-over.ts'
import { compostRows, nextStart } from './compost.routes.ts'
import { carriedOff } from './compost-start.ts'
import { daysToSowing } from './days-to-sowing.ts'
import { dressingForm, dressingTyped, settlingKinds } from './dressing.form.ts'
import { type DressingAsked, dressingPage } from './dressing.page.ts'
import { limitsOver } from './dressing-limits.ts'
import { type DressedMethod, dressingPlan } from './dressing-plan.ts'
import { dressedLast, dressingProducts, groundOfMethods, ownHeaps } from './dressing-start.ts'
import { assumptionsIn, type FieldAssumed } from './field-assumed.ts'
import { longestLead, orderBy } from './order-day.ts'
import { nitrogenStillFound } from './still-found.ts'
import { highOf, testedLast } from './tested-last.ts'
import { toLog } from './to-log.ts'

const words = () => wordsHere().dressing

/** A builder's barrow struck full, and a bag of compost: common sizes, from memory; the group's own come first. */
const usualLitres = { barrow: 85, bag: 40 } as const
/** Of a fresh layer's depth, per cent left after some months: common practice, from memory. */
const usualSettling = { compost: '80', manure: '60', mulch: '30' } as const

export function dressingRoutes(app: FastifyInstance): void {
  app.get('/g/:group/decide/compost', { config: { access: 'reader' } }, async (request, reply) => {
    const thought = await thoughtOver(request)
    if (!thought) return reply.page('decisions/dressing', { shown: null, fields: [] }, { title: words().title })
    const { errors, asked, fields } = thought
    const shown = asked && dressingPage(asked, request.member.group)
    const page = {
      fields,
      errors,
      garden: thought.garden,
      shown,
      logAddress: asked && shown && logAddressOf(request, shown, handedOn(asked, shown, fields)),
      neededAddress: shown && neededAddressOf(request, shown.withNeeded),
      isKeeper: request.member.role === 'keeper',
    }
    return reply.page('decisions/dressing', page, { title: words().title, status: asked ? 200 : 422 })
  })

  app.get('/g/:group/decide/compost.json', { config: { access: 'reader' } }, async (request, reply) => {
    const thought = await thoughtOver(request)
    if (!thought) throw notFound()
    if (!thought.asked) return reply.status(422).send({ errors: thought.errors })
    const { rows, timing } = thought.asked
    return { schemaVersion: 3, scenario: 'dressing', currency: request.member.group.currency, rows, timing }
  })
}

/** The log of decisions, its form open: what is decided, its answer, its assumptions and its address. */
function logAddressOf({ url, member }: FastifyRequest, { answer }: Shown, handed: Handed): string {
  return toLog(member.group, { ...handed, question: words().title, finding: answer, from: url })
}

type Shown = ReturnType<typeof dressingPage>
type Handed = ReturnType<typeof handedOn>

/** What would be spread in all, as the record counts it: a volume, of one product or one method where there is one. */
function handedOn({ rows }: DressingAsked, { decision }: Shown, fields: readonly FieldAssumed[]) {
  const laid = rows.filter((row) => row.method.product !== null && row.depthMm !== 0)
  const volumes = laid.flatMap((row) => row.volumeMl ?? [])
  const [inputs, methods] = [laid.map((row) => row.method.product?.inputId), laid.map((row) => row.method.methodId)]
  const only = (ids: readonly (string | undefined)[]) => (new Set(ids).size === 1 ? (ids[0] ?? null) : null)
  const value = volumes.reduce((sum, one) => sum + one, 0) / 1_000_000
  const isKnown = laid.length > 0 && volumes.length === laid.length
  return {
    decision,
    assumptions: assumptionsIn(fields),
    figure: isKnown ? { measure: 'spread' as const, value, inputId: only(inputs), methodId: only(methods) } : null,
  }
}

/** The same plan with each known layer as it is needed; null where none is known. */
function neededAddressOf(request: FastifyRequest, amounts: ReturnType<typeof dressingPage>['withNeeded']) {
  if (amounts.length === 0) return null
  const asked = Object.entries(queryOf(request)).flatMap(([name, value]): [string, string][] =>
    typeof value === 'string' ? [[name, value]] : [],
  )
  const query = new URLSearchParams(Object.fromEntries([...asked, ...amounts]))
  return `/g/${request.member.group.slug}/decide/compost?${query.toString()}`
}

/** For the page of a season's end: the plan as the record alone gives it. */
export async function dressingAnswered(request: FastifyRequest): Promise<Answered> {
  const thought = await thoughtOver(request)
  if (!thought?.asked) return unanswered('compost')
  const shown = dressingPage(thought.asked, request.member.group)
  return {
    key: 'compost',
    about: null,
    answer: shown.answer,
    sure: [...(shown.most === null ? [] : [shown.most]), ...shown.sure],
    change: words().change,
    handed: handedOn(thought.asked, shown, thought.fields),
  }
}

/** What the record and the address say together; null where no method has ground. */
async function thoughtOver(request: FastifyRequest) {
  const { group } = request.member
  const base = await compostRows(request)
  const more = await request.read(async (tx) => ({
    methods: await methodsOf(tx, group.id),
    assignments: await assignmentsOf(tx, group.id),
    plantings: await plantingsOf(tx, group.id),
    stands: await plantStandsOf(tx, group.id),
    tests: await soilTestsOf(tx, group.id),
    heaps: await heapsOf(tx, group.id),
  }))
  const rows = { ...base, methods: more.methods, assignments: more.assignments }
  const grounds = groundOfMethods(rows)
  if (grounds.length === 0) return null
  const today = dayIn(group.timeZone, new Date())
  const products = dressingProducts(rows)
  const ids = grounds.map((one) => one.methodId)
  const typed = typedOver(rows, grounds, {
    products,
    request,
    wantedOn: nextStart(base.seasons.at(-1)?.startsOn, today),
  })
  const form = readForm(dressingForm(ids), dressingTyped(typed, ids))
  const asked = form.kind === 'refused' ? null : plan(form.value)
  const wrong = form.kind === 'refused' ? form.errors : wrongWords(asked)
  return {
    garden: grounds[0]?.gardens[0] ?? null,
    errors: wrong,
    asked: Object.keys(wrong).length > 0 ? null : asked,
    fields: fieldsOf({ grounds, products, typed, errors: wrong }),
  }

  function plan(given: GivenForm): DressingAsked {
    const barrowMl = Math.round(1000 * given.barrow)
    const bagMl = Math.round(1000 * given.bag)
    const tested = { gardens: rows.gardens, tests: more.tests }
    const [limits, day] = [limitsHeld(base.limits), given.wantedOn ?? today]
    const methods = grounds.map((ground): DressedMethod => {
      const product = products.find((one) => one.inputId === typed[`product.${ground.methodId}`]) ?? null
      const { methodId, name, gardens, areaCm2, wayMm, bedIds } = ground
      const amount = given.amounts[methodId]
      const isLaid = product !== null && amount !== undefined
      return {
        methodId,
        name,
        gardens,
        areaCm2,
        wayMm,
        product,
        typed: isLaid ? amount : { kind: 'nothing' },
        lastTime: dressedLast(rows, ground)?.amount ?? null,
        last: carriedOff(rows, bedIds),
        stillFoundGPerM2: nitrogenStillFound(rows, bedIds, today),
        high: highOf(testedLast(ground, tested)),
        limits: product === null ? [] : limitsOver(product.source, limits, day),
      }
    })
    const measures = [...rows.measures, ...sizesOf(rows.measures, { barrowMl, bagMl })]
    const leftOfDepth = Object.fromEntries(settlingKinds.map((kind) => [kind, given.settles[kind] / 100]))
    const planned = dressingPlan(methods, ownHeaps(rows), { measures, barrowMl, bagMl, leftOfDepth })
    return {
      rows: planned,
      places: new Map(grounds.map((one) => [one.methodId, one.place])),
      tests: grounds.flatMap((ground) => testedLast(ground, tested)),
      timing: daysToSowing({
        ...rows,
        plantings: more.plantings,
        stands: more.stands,
        weighed: base.plantings,
      }),
      orders: ordersOf(planned, given.wantedOn),
      readyHeaps: more.heaps.flatMap((heap) => {
        const isMeasured = rows.deliveries.some((one) => one.inputId === heap.inputId)
        return heap.readyOn !== null && !isMeasured ? [heap.name] : []
      }),
      limits,
      day,
      barrowMl,
      bagMl,
    }
  }

  function ordersOf(planned: DressingAsked['rows'], wantedOn: GivenForm['wantedOn']): DressingAsked['orders'] {
    const bought = planned.filter((row) => row.toBuyMl === null || row.toBuyMl > 0)
    const named = new Map(
      bought.flatMap(({ method: { product } }) => (product ? [[product.inputId, product.name]] : [])),
    )
    return [...named].flatMap(([inputId, product]) => {
      const lead = longestLead(rows.deliveries.filter((one) => one.inputId === inputId))
      if (lead === null || wantedOn === null) return []
      const by = orderBy(wantedOn, lead)
      return [{ product, by, lead, late: by < today }]
    })
  }
}

type GivenForm = ReturnType<ReturnType<typeof dressingForm>['parse']>
type Grounds = ReturnType<typeof groundOfMethods>
type Products = ReturnType<typeof dressingProducts>

/** A barrow and a bag of the form, where the group has no measure of that name. */
const sizesOf = (own: readonly { name: string }[], { barrowMl, bagMl }: { barrowMl: number; bagMl: number }) =>
  [
    { name: 'barrow', volumeMl: barrowMl, massG: null },
    { name: 'bag', volumeMl: bagMl, massG: null },
  ].filter(({ name }) => !own.some((one) => one.name.trim().toLowerCase() === name))

/** An amount whose word has no size here, at the method's own field. */
function wrongWords(asked: DressingAsked | null): Record<string, string> {
  const wrong = (asked?.rows ?? []).flatMap(({ method: { methodId, typed }, volumeMl, massG, unitThousandths }) =>
    typed.kind === 'load' && volumeMl === null && massG === null && unitThousandths === null
      ? [[`amounts.${methodId}`, words().unknownWord(typed.word)]]
      : [],
  )
  return Object.fromEntries(wrong)
}

interface Start {
  readonly products: Products
  readonly request: FastifyRequest
  readonly wantedOn: string
}

/** What the record gives, and over it what the address says. */
function typedOver(rows: Parameters<typeof dressedLast>[0], grounds: Grounds, { request, wantedOn }: Start) {
  const litres = (name: 'barrow' | 'bag') => {
    const own = rows.measures.find((one) => one.name.trim().toLowerCase() === name)?.volumeMl
    return String(own === null || own === undefined ? usualLitres[name] : own / 1000)
  }
  const start: Record<string, string> = { barrow: litres('barrow'), bag: litres('bag'), wantedOn }
  for (const kind of settlingKinds) start[`settles.${kind}`] = usualSettling[kind]
  for (const ground of grounds) {
    const last = dressedLast(rows, ground)
    start[`product.${ground.methodId}`] = last === null ? '' : last.inputId
    start[`amounts.${ground.methodId}`] = last === null ? 'nothing' : last.amount
  }
  return askedOver(start, queryOf(request))
}

interface Fielded {
  readonly grounds: Grounds
  readonly products: Products
  readonly typed: Record<string, string>
  readonly errors: Record<string, string>
}

function fieldsOf({ grounds, products, typed, errors }: Fielded) {
  const w = words()
  const options = products.map(({ inputId, name }) => ({ value: inputId, label: name }))
  const field = (name: string, label: string, more: Record<string, unknown> = {}) => ({
    name,
    label,
    value: typed[name],
    error: errors[name],
    ...more,
  })
  return [
    ...grounds.flatMap(({ methodId, name }) => [
      field(`product.${methodId}`, w.product(name), { options, blank: w.blank }),
      field(`amounts.${methodId}`, w.amount(name)),
    ]),
    field('wantedOn', w.wantedOn, { type: 'date' }),
    field('barrow', w.barrow, { inputmode: 'decimal' }),
    field('bag', w.bag, { inputmode: 'decimal' }),
    ...settlingKinds.map((kind) => field(`settles.${kind}`, w.leftOf[kind], { inputmode: 'decimal' })),
  ]
}
