import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import { z } from 'zod'
import { constraintOf } from '../db/constraint.ts'
import type { Tx } from '../db/database.ts'
import { asShown } from '../lookups/unsaid.ts'
import { optionalText, text, wholeNumber } from './fields.ts'
import { readForm, type Typed } from './form.ts'
import { notFound } from './problem.ts'
import { addressPart, fieldsOf } from './query-of.ts'
import { wordsHere } from './words-here.ts'

const words = () => wordsHere().correcting

export interface FieldShown {
  readonly name: string
  readonly label: string
  readonly value: string
  readonly hint?: string
  readonly type?: string
  readonly options?: readonly { value: string; label: string }[]
}

/** As `views/parts/table` shows it. */
interface TableShown {
  readonly caption: string
  readonly head: readonly { readonly name: string; readonly figure?: boolean }[]
  readonly rows: readonly (readonly (string | { readonly text: string; readonly note?: string })[])[]
}

/** The words of a list, by the value that is stored for each. */
export const choicesOf = (named: Readonly<Record<string, string>>) =>
  Object.entries(named).map(([value, label]) => ({ value, label }))

interface Versioned {
  readonly id: string
  readonly version: number
}

type Errors = Record<string, string>

/** What one kind of row needs to be corrected on a page of its own: its fields, its form, how it is written. */
export interface Correctable<Row extends Versioned, Given> {
  readonly kind: string
  /** The table of the row, where it is not called as the kind is: its history stands under it. */
  readonly table?: string
  readonly access: 'recorder' | 'keeper'
  find(tx: Tx, groupId: string, id: string): Promise<Row | undefined>
  title(row: Row): string
  /** The row as its form shows it, in the group's units. */
  fields(row: Row, request: FastifyRequest): readonly FieldShown[]
  form(request: FastifyRequest, row: Row): z.ZodType<Given>
  /** False where another version stands by now. */
  save?(tx: Tx, seen: Versioned & { groupId: string }, given: Given, row: Row): Promise<boolean>
  /** In place of `refuse` and `save`, where one rule says both: a sentence at a field, or whether it was written. */
  correct?(tx: Tx, what: Correction<Row, Given>): Promise<boolean | Errors>
  remove(tx: Tx, seen: Versioned & { groupId: string }, reason: string): Promise<boolean>
  /** A sentence at a field, where the rest of the record speaks against it. */
  refuse?(tx: Tx, row: Row, given: Given | null, request: FastifyRequest): Promise<Errors | undefined>
  /** Whether what it says is of a season that was closed, or of a closed week: then its correction asks why. */
  closed?(tx: Tx, row: Row): Promise<boolean>
  /** Whether what was typed changes something that a closed season rests on: asked for a reason likewise. */
  restsOn?(tx: Tx, row: Row, given: Given): Promise<boolean>
  readonly constraints?: Record<string, Errors>
  /** What rests on the row, and what of it would change by what was typed: a table below the form. */
  rests?(row: Row, typed: Typed | undefined, request: FastifyRequest): TableShown | undefined
  back(row: Row, request: FastifyRequest): string
  /** What else can be done with it, on a page of its own. */
  further?(row: Row, request: FastifyRequest): { readonly address: string; readonly label: string }
}

export interface Correction<Row, Given> {
  readonly seen: Versioned & { readonly groupId: string }
  readonly row: Row
  readonly given: Given
  readonly request: FastifyRequest
}

interface Shown {
  readonly typed?: Typed
  readonly errors?: Errors
  readonly status?: number
  /** Set where someone else has written meanwhile: both versions are shown. */
  readonly meanwhile?: boolean
}

/** What was closed is corrected with a reason of its own, which the history keeps. */
const closedReason = z.object({ closedReason: optionalText({ most: 300 }).optional() })
const removalForm = z.object({ reason: text({ most: 300 }) })
const versionForm = z.object({ version: wholeNumber({ least: 1, most: 1_000_000 }) })

/**
 * A page to correct a row and to mark it as removed. The second of two writers is told, sees both and loses nothing.
 */
export function correcting<Row extends Versioned, Given>(app: FastifyInstance, what: Correctable<Row, Given>): void {
  const address = `/g/:group/correct/${what.kind}/:id`
  const config = { access: what.access }
  app.get(address, { config }, async (request, reply) => show(what, request, reply, await rowAsked(what, request), {}))

  app.post(address, { config }, async (request, reply) => {
    const row = await rowAsked(what, request)
    const typed = fieldsOf(request.body)
    const version = versionSeen(request)
    const form = readForm(what.form(request, row), typed)
    if (version !== row.version) return show(what, request, reply, row, { typed, meanwhile: true, status: 409 })
    if (form.kind === 'refused') return show(what, request, reply, row, { typed, errors: form.errors, status: 422 })
    const seen = { id: row.id, groupId: request.member.group.id, version }
    const reason = reasonGiven(request)
    const answer = await written(request, what, reason, async (tx) => {
      const asksWhy = (await what.closed?.(tx, row)) || (await what.restsOn?.(tx, row, form.value))
      if (reason === null && asksWhy) return { closedReason: words().closedAsks }
      if (what.correct) return what.correct(tx, { seen, row, given: form.value, request })
      const errors = await what.refuse?.(tx, row, form.value, request)
      return errors ?? what.save?.(tx, seen, form.value, row) ?? false
    })
    if (answer === true) return reply.backTo(what.back(row, request), words().corrected)
    const now = await rowAsked(what, request)
    if (answer === false) return show(what, request, reply, now, { typed, meanwhile: true, status: 409 })
    return show(what, request, reply, now, { typed, errors: answer, status: 422 })
  })

  app.post(`${address}/removal`, { config }, async (request, reply) => {
    const row = await rowAsked(what, request)
    const form = readForm(removalForm, request.body)
    if (form.kind === 'refused') return show(what, request, reply, row, { errors: form.errors, status: 422 })
    const version = versionSeen(request)
    const seen = { id: row.id, groupId: request.member.group.id, version }
    const answer = await written(request, what, form.value.reason, async (tx) => {
      const errors = await what.refuse?.(tx, row, null, request)
      return errors ?? what.remove(tx, seen, form.value.reason)
    })
    if (answer === true) return reply.backTo(what.back(row, request), words().removed)
    if (answer === false) {
      return show(what, request, reply, await rowAsked(what, request), { meanwhile: true, status: 409 })
    }
    return show(what, request, reply, row, { errors: { reason: asShown(Object.values(answer)[0]) }, status: 422 })
  })
}

async function written<Row extends Versioned, Given>(
  request: FastifyRequest,
  what: Correctable<Row, Given>,
  reason: string | null,
  work: (tx: Tx) => Promise<boolean | Errors>,
): Promise<boolean | Errors> {
  try {
    return await request.write(work, reason ?? words().reasonKept)
  } catch (error) {
    const errors = what.constraints?.[constraintOf(error)]
    if (!errors) throw error
    return errors
  }
}

/** 0 where the form names no version: then nothing is written over. */
function versionSeen(request: FastifyRequest): number {
  const form = readForm(versionForm, request.body)
  return form.kind === 'answer' ? form.value.version : 0
}

/** Why something that was closed is corrected; null where nothing was typed. */
export function reasonGiven(request: FastifyRequest): string | null {
  const form = readForm(closedReason, request.body)
  return form.kind === 'answer' ? (form.value.closedReason ?? null) : null
}

async function rowAsked<Row extends Versioned, Given>(
  what: Correctable<Row, Given>,
  request: FastifyRequest,
): Promise<Row> {
  const id = z.uuid().safeParse(addressPart(request, 'id'))
  const row = id.success ? await request.read((tx) => what.find(tx, request.member.group.id, id.data)) : undefined
  if (!row) throw notFound()
  return row
}

async function show<Row extends Versioned, Given>(
  what: Correctable<Row, Given>,
  request: FastifyRequest,
  reply: FastifyReply,
  row: Row,
  { typed, errors = {}, status = 200, meanwhile = false }: Shown,
) {
  const asksWhy =
    errors.closedReason !== undefined || reasonGiven(request) !== null || (await isClosed(what, request, row))
  const fields = [...what.fields(row, request), ...(asksWhy ? [closedField()] : [])].map((field) => ({
    ...field,
    stands: field.options?.find((one) => one.value === field.value)?.label ?? field.value,
    value: typeof typed?.[field.name] === 'string' ? String(typed[field.name]) : field.value,
    error: errors[field.name],
  }))
  const page = {
    name: what.title(row),
    version: row.version,
    address: `/g/${request.member.group.slug}/correct/${what.kind}/${row.id}`,
    back: what.back(row, request),
    history: request.member.role === 'keeper' ? historyOf(what, request, row.id) : null,
    fields: fields.map((field) => ({
      ...field,
      typed: field.options?.find((one) => one.value === field.value)?.label ?? field.value,
    })),
    errors,
    meanwhile,
    further: what.further?.(row, request) ?? null,
    rests: what.rests?.(row, typed, request) ?? null,
  }
  return reply.page('correcting/correct', page, { title: words().title(page.name), status })
}

const isClosed = <Row extends Versioned, Given>(what: Correctable<Row, Given>, request: FastifyRequest, row: Row) =>
  what.closed ? request.read(async (tx) => (await what.closed?.(tx, row)) ?? false) : false

const closedField = (): FieldShown => ({
  name: 'closedReason',
  label: words().closedReason,
  hint: words().closedHint,
  value: '',
})

/** What the database says of a row that others rest on, by the name of its rule; in the language of whoever asks. */
export const stillUsed = {
  stays_while_used: {
    get reason() {
      return words().stillUsed
    },
  },
}

/** Null for a kind whose table has no words in the history. */
function historyOf({ kind, table }: { kind: string; table?: string }, request: FastifyRequest, id: string) {
  const named = table ?? kind.replaceAll('-', '_')
  return named in wordsHere().history.tables ? `/g/${request.member.group.slug}/history/${named}/${id}` : null
}
