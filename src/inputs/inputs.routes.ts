import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import type { z } from 'zod'
import { constraintOf } from '../db/constraint.ts'
import type { Tx } from '../db/database.ts'
import { newId } from '../db/new-id.ts'
import type { IsoDate } from '../quantities/dates.ts'
import { plantingsOf, seasonsOf } from '../seasons/seasons.queries.ts'
import { writeCsv } from '../web/csv.ts'
import { type RefusedForm, readForm, refuseForm } from '../web/form.ts'
import { notFound } from '../web/problem.ts'
import { wordsHere } from '../web/words-here.ts'
import { applicationsOf, placesOf } from './applications.queries.ts'
import { deliveriesOf } from './deliveries.queries.ts'
import { heapEvents } from './heap.ts'
import { heapEntryForm, heapForm, heapReadyForm } from './heaps.form.ts'
import { heapsPage } from './heaps.page.ts'
import { heapsOf } from './heaps.queries.ts'
import { heapIsReady, startHeap, writeToHeap } from './heaps.routes.ts'
import { arrivalForm, deliveryForm, inputKinds, measureForm, spreadingForm } from './inputs.form.ts'
import { inputsPage } from './inputs.page.ts'
import { inputFigures, inputTable } from './inputs-figures.ts'
import { enterArrival, enterDelivery } from './loads.routes.ts'
import { measuresOf, saveMeasure } from './measures.queries.ts'
import { enterSpreading } from './spreading.routes.ts'
import type { InputErrors, InputWriting } from './writing.routes.ts'

const words = () => wordsHere().inputs

interface InputOptions {
  /** Person-minutes that the diary holds for each load. */
  readonly carried: (tx: Tx, groupId: string) => Promise<ReadonlyMap<string, number>>
}

export function inputRoutes(app: FastifyInstance, { carried }: InputOptions): void {
  app.get('/g/:group/inputs', { config: { access: 'reader' } }, (request, reply) =>
    show(request, reply, { carried }, null),
  )

  app.get('/g/:group/inputs.json', { config: { access: 'reader' } }, async (request) =>
    inputFigures(await rowsOf(request, carried), request.member.group.currency),
  )

  app.get<{ Querystring: { table?: string } }>(
    '/g/:group/inputs.csv',
    { config: { access: 'reader' } },
    async (request, reply) => {
      const figures = inputFigures(await rowsOf(request, carried), request.member.group.currency)
      const table = inputTable(figures, request.query.table ?? 'spreadings')
      if (!table) throw notFound()
      return reply.type('text/csv; charset=utf-8').send(writeCsv(table))
    },
  )

  /** Every form of the page: read, then saved in one transaction that may still refuse with a sentence at a field. */
  function writes<T>(
    form: string,
    schema: (request: FastifyRequest) => z.ZodType<T>,
    save: (at: InputWriting, given: T) => Promise<InputErrors | void>,
    notice: (given: T) => string,
  ): void {
    app.post(`/g/:group/inputs/${form}`, { config: { access: 'recorder' } }, async (request, reply) => {
      const answer = readForm(schema(request), request.body)
      if (answer.kind === 'refused') return show(request, reply, { carried }, { form, ...answer })
      const author = { groupId: request.member.group.id, createdBy: request.member.personId }
      const errors = await written(request, (tx) => save({ tx, author, request }, answer.value))
      if (errors) return show(request, reply, { carried }, { form, ...refuseForm(request.body, errors) })
      return reply.backTo(`/g/${request.member.group.slug}/inputs`, notice(answer.value))
    })
  }

  const currency = (request: FastifyRequest) => request.member.group.currency
  const saved = () => words().saved
  writes('deliveries', (request) => deliveryForm(currency(request)), enterDelivery, deliverySaid)
  writes(
    'arrivals',
    (request) => arrivalForm(currency(request)),
    enterArrival,
    () => words().arrived,
  )
  writes(
    'spreadings',
    () => spreadingForm,
    enterSpreading,
    () => words().applied,
  )
  writes(
    'measures',
    (request) => measureForm(request.member.group.weightUnit),
    (at, given) => saveMeasure(at.tx, at.author, given),
    saved,
  )
  writes('heaps', () => heapForm, startHeap, saved)
  writes('heap-entries', () => heapEntryForm, writeToHeap, saved)
  writes(
    'heaps-ready',
    () => heapReadyForm,
    heapIsReady,
    () => wordsHere().heaps.isReady,
  )
}

async function written(
  request: FastifyRequest,
  work: (tx: Tx) => Promise<InputErrors | void>,
): Promise<InputErrors | void> {
  try {
    return await request.write(work)
  } catch (error) {
    const constraint = constraintOf(error)
    if (constraint === 'measures_name_is_taken') return { name: wordsHere().gardens.nameTaken }
    // Two who write down the first load of an input at once: the second finds it when it looks again.
    if (constraint === 'inputs_name_is_taken') return request.write(work)
    throw error
  }
}

/** Where it may carry residues, the notice says what to do before it is spread. */
function deliverySaid(given: { kind: string; ownMade: boolean; deliveredOn: IsoDate | null }): string {
  if (given.deliveredOn === null) return words().ordered
  const maybeSprayed = given.kind === 'mulch' || given.kind === 'manure' || (given.kind === 'compost' && !given.ownMade)
  return maybeSprayed ? `${words().delivered} ${words().bioassay}` : words().delivered
}

type Refused = RefusedForm & { readonly form: string }

function rowsOf(request: FastifyRequest, carried: InputOptions['carried']) {
  const { group } = request.member
  return request.read(async (tx) => ({
    deliveries: await deliveriesOf(tx, group.id),
    spreadings: await applicationsOf(tx, group.id),
    places: await placesOf(tx, group.id),
    measures: await measuresOf(tx, group.id),
    seasons: await seasonsOf(tx, group.id),
    plantings: await plantingsOf(tx, group.id),
    carried: await carried(tx, group.id),
    heaps: await heapsOf(tx, group.id),
  }))
}

async function show(request: FastifyRequest, reply: FastifyReply, { carried }: InputOptions, refused: Refused | null) {
  const { group, role } = request.member
  const rows = await rowsOf(request, carried)
  const page = {
    ...inputsPage(rows, group),
    heaps: heapsPage(rows.heaps, group.locale),
    heapEvents,
    kinds: inputKinds,
    of: (form: string) => ({
      typed: refused?.form === form ? refused.typed : { id: newId() },
      errors: refused?.form === form ? refused.errors : {},
      open: refused?.form === form,
    }),
    mayRecord: role !== 'reader',
  }
  return reply.page('inputs/inputs', page, { title: words().title, status: refused ? 422 : 200 })
}
