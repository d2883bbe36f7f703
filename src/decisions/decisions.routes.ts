import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import { ofTable, rowOf } from '../db/amend.ts'
import type { Tx } from '../db/database.ts'
import { newId } from '../db/new-id.ts'
import { asShown } from '../lookups/unsaid.ts'
import type { IsoDate } from '../quantities/dates.ts'
import { dayIn } from '../quantities/dates.ts'
import { seasonsOf } from '../seasons/seasons.queries.ts'
import { type Correctable, correcting } from '../web/correcting.ts'
import { formAsked, type RefusedForm, readForm, refuseForm, type Typed } from '../web/form.ts'
import { queryOf } from '../web/query-of.ts'
import { wordsHere } from '../web/words-here.ts'
import { decisionCorrection, decisionForm, happenedForm } from './decisions.form.ts'
import { decisionsPage } from './decisions.page.ts'
import { decisionsOf, saveDecision, saveHappened } from './decisions.queries.ts'
import { decisions } from './decisions.table.ts'

const words = () => wordsHere().decisions
const f = () => words().fields
const today = (request: FastifyRequest) => dayIn(request.member.group.timeZone, new Date())
const ledger = (request: FastifyRequest) => `/g/${request.member.group.slug}/decisions`

export function decisionRoutes(app: FastifyInstance): void {
  app.get('/g/:group/decisions', { config: { access: 'reader' } }, (request, reply) => show(request, reply, null))

  app.post('/g/:group/decisions', { config: { access: 'keeper' } }, async (request, reply) => {
    const form = readForm(decisionForm, request.body)
    if (form.kind === 'refused') return show(request, reply, { form: 'decisions', ...form })
    const { group, personId } = request.member
    const errors = await request.write(async (tx) => {
      const wrong = await decisionRefused(tx, group.id, form.value, request)
      if (wrong) return wrong
      await saveDecision(tx, { groupId: group.id, createdBy: personId }, form.value)
      return undefined
    })
    if (errors) return show(request, reply, { form: 'decisions', ...refuseForm(request.body, errors) })
    return reply.backTo(ledger(request), words().saved)
  })

  app.post('/g/:group/decisions/happened', { config: { access: 'keeper' } }, async (request, reply) => {
    const form = readForm(happenedForm, request.body)
    if (form.kind === 'refused') return show(request, reply, { form: 'happened', ...form })
    const { decisionId, happened } = form.value
    const answer = await request.write(async (tx) => {
      const row = await rowOf(tx, decisions, request.member.group.id, decisionId)
      if (!row) return wordsHere().fields.notChosen
      if (row.happened !== null && row.happened !== happened) return words().happenedAlready
      return row.happened === happened || (await saveHappened(tx, row, happened)) ? null : words().happenedAlready
    })
    if (answer === null) return reply.backTo(ledger(request), words().saved)
    return show(request, reply, { form: 'happened', ...refuseForm(request.body, { decisionId: answer }) })
  })

  correcting(app, decision)
}

interface Dated {
  readonly seasonId: string
  readonly decidedOn: IsoDate
}

async function decisionRefused(tx: Tx, groupId: string, given: Dated, request: FastifyRequest) {
  if (given.decidedOn > today(request)) return { decidedOn: words().ahead }
  const known = (await seasonsOf(tx, groupId)).some((season) => season.id === given.seasonId)
  return known ? undefined : { seasonId: wordsHere().fields.notChosen }
}

type Decision = typeof decisions.$inferSelect & { readonly seasonChoices: { value: string; label: string }[] }

const decision: Correctable<Decision, Dated> = {
  ...ofTable(decisions),
  find: async (tx, groupId, id) => {
    const row = await rowOf(tx, decisions, groupId, id)
    if (!row) return undefined
    const seasons = await seasonsOf(tx, groupId)
    return { ...row, seasonChoices: seasons.map((one) => ({ value: one.id, label: one.name })) }
  },
  kind: 'decisions',
  access: 'keeper',
  title: (row) => row.decision,
  fields: (row) => [
    { name: 'decision', label: f().decision, type: 'textarea', value: row.decision },
    { name: 'finding', label: f().finding, type: 'textarea', value: row.finding },
    { name: 'expected', label: f().expected, type: 'textarea', value: row.expected },
    { name: 'happened', label: f().happened, type: 'textarea', value: asShown(row.happened) },
    { name: 'decidedOn', label: f().decidedOn, type: 'date', value: row.decidedOn },
    { name: 'lookAgainOn', label: f().lookAgainOn, type: 'date', value: asShown(row.lookAgainOn) },
    { name: 'seasonId', label: f().season, value: row.seasonId, options: row.seasonChoices },
  ],
  form: () => decisionCorrection,
  refuse: async (tx, row, given, request) => (given ? decisionRefused(tx, row.groupId, given, request) : undefined),
  back: (_row, request) => ledger(request),
}

/** What a decision page has worked out may stand in the form already: "?decision=..&finding=..&expected=..". */
function handedOver(request: FastifyRequest): Typed {
  const asked = queryOf(request)
  const names = ['decision', 'finding', 'expected'] as const
  const said = names.map((name) => [name, typeof asked[name] === 'string' ? asked[name].slice(0, 500) : ''])
  return { id: newId(), decidedOn: today(request), ...Object.fromEntries(said) }
}

async function show(request: FastifyRequest, reply: FastifyReply, refused: (RefusedForm & { form: string }) | null) {
  const { group, role } = request.member
  const rows = await request.read(async (tx) => ({
    decisions: await decisionsOf(tx, group.id),
    seasons: await seasonsOf(tx, group.id),
  }))
  const asked = formAsked(request)
  const page = {
    ...decisionsPage({ ...rows, today: today(request) }, group.locale),
    of: (form: string) => ({
      typed: refused?.form === form ? refused.typed : handedOver(request),
      errors: refused?.form === form ? refused.errors : {},
      open: refused?.form === form || (refused === null && asked === form),
    }),
    mayChange: role === 'keeper',
  }
  return reply.page('decisions/decisions', page, { title: words().title, status: refused ? 422 : 200 })
}
