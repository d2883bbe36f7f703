import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import type { z } from 'zod'
import { ofTable, rowOf } from '../db/amend.ts'
import type { Tx } from '../db/database.ts'
import { newId } from '../db/new-id.ts'
import { asShown } from '../lookups/unsaid.ts'
import { dayIn } from '../quantities/dates.ts'
import { seasonsOf } from '../seasons/seasons.queries.ts'
import { type Correctable, choicesOf, correcting, type FieldShown } from '../web/correcting.ts'
import { formAsked, type RefusedForm, readForm, refuseForm, type Typed } from '../web/form.ts'
import { queryOf } from '../web/query-of.ts'
import { wordsHere } from '../web/words-here.ts'
import { decisionCorrection, decisionForm, happenedForm } from './decisions.form.ts'
import { decisionFigures, decisionsPage } from './decisions.page.ts'
import { decisionsOf, saveDecision, saveHappened } from './decisions.queries.ts'
import { decisions } from './decisions.table.ts'
import { type ChoicesOfFigures, expectationOf, figureNames } from './expectation.ts'
import { figureTyped } from './figure-handed.ts'
import { choicesOfFigures, recordAsked } from './outcomes.queries.ts'

const words = () => wordsHere().decisions
const f = () => words().fields
const today = (request: FastifyRequest) => dayIn(request.member.group.timeZone, new Date())
const ledger = (request: FastifyRequest) => `/g/${request.member.group.slug}/decisions`

export function decisionRoutes(app: FastifyInstance): void {
  app.get('/g/:group/decisions', { config: { access: 'reader' } }, (request, reply) => show(request, reply, null))

  app.get('/g/:group/decisions.json', { config: { access: 'reader' } }, async (request) =>
    decisionFigures(await rowsOf(request), request.member.group.currency),
  )

  app.post('/g/:group/decisions', { config: { access: 'keeper' } }, async (request, reply) => {
    const form = readForm(decisionForm(request.member.group.currency), request.body)
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

type Given = z.output<ReturnType<typeof decisionCorrection>>
type Told = Omit<Given, 'happened'>

async function decisionRefused(tx: Tx, groupId: string, given: Told, request: FastifyRequest) {
  if (given.decidedOn > today(request)) return { decidedOn: words().ahead }
  const { notChosen } = wordsHere().fields
  const choices = await choicesOfFigures(tx, groupId)
  const isKnown = (name: keyof ChoicesOfFigures, id: string | null) =>
    id === null || choices[name].some((one) => one.value === id)
  if (!isKnown('aboutSeasonId', given.seasonId)) return { seasonId: notChosen }
  if (!isKnown('aboutSeasonId', given.aboutSeasonId)) return { aboutSeasonId: notChosen }
  if (!isKnown('methodId', given.methodId)) return { methodId: notChosen }
  if (!isKnown('methodId', given.besideMethodId)) return { besideMethodId: notChosen }
  if (!isKnown('ground', given.gardenId && `garden:${given.gardenId}`)) return { ground: notChosen }
  if (!isKnown('ground', given.bedId && `bed:${given.bedId}`)) return { ground: notChosen }
  return isKnown('inputId', given.inputId) ? undefined : { inputId: notChosen }
}

type Decision = typeof decisions.$inferSelect & { readonly choices: ChoicesOfFigures }

const decision: Correctable<Decision, Given> = {
  ...ofTable(decisions),
  find: async (tx, groupId, id) => {
    const row = await rowOf(tx, decisions, groupId, id)
    if (!row) return undefined
    return { ...row, choices: await choicesOfFigures(tx, groupId) }
  },
  kind: 'decisions',
  access: 'keeper',
  title: (row) => row.decision,
  fields: (row, request) => [
    { name: 'decision', label: f().decision, type: 'textarea', value: row.decision },
    { name: 'question', label: f().question, value: asShown(row.question) },
    { name: 'finding', label: f().finding, type: 'textarea', value: row.finding },
    { name: 'expected', label: f().expected, type: 'textarea', value: row.expected },
    { name: 'assumptions', label: f().assumptions, type: 'textarea', value: asShown(row.assumptions) },
    { name: 'address', label: f().address, value: asShown(row.address) },
    { name: 'happened', label: f().happened, type: 'textarea', value: asShown(row.happened) },
    { name: 'decidedOn', label: f().decidedOn, type: 'date', value: row.decidedOn },
    { name: 'lookAgainOn', label: f().lookAgainOn, type: 'date', value: asShown(row.lookAgainOn) },
    { name: 'seasonId', label: f().season, value: row.seasonId, options: row.choices.aboutSeasonId },
    ...figureFields(row, request.member.group.currency),
  ],
  form: (request) => decisionCorrection(request.member.group.currency),
  refuse: async (tx, row, given, request) => (given ? decisionRefused(tx, row.groupId, given, request) : undefined),
  back: (_row, request) => ledger(request),
}

/** The fields of the figure, each with a blank before its choices. */
function figureFields(row: Decision, currency: string): FieldShown[] {
  const { fields, measures } = words().figures
  const of = expectationOf(row)
  const typed = of ? figureTyped(of, currency) : {}
  const options = { ...row.choices, measure: choicesOf(measures), besideMethodId: row.choices.methodId }
  return figureNames.map((name) => {
    const listed = new Map(Object.entries(options)).get(name)
    const blank = { value: '', label: name === 'aboutSeasonId' ? fields.nextSeason : fields.none }
    return {
      name,
      label: fields[name],
      value: asShown(typed[name]),
      ...(listed ? { options: [blank, ...listed] } : {}),
    }
  })
}

const handedNames = ['decision', 'question', 'finding', 'expected', 'assumptions', 'address'] as const

/** What a decision page has worked out may stand in the form already: "?decision=..&finding=..&expected=..". */
function handedOver(request: FastifyRequest): Typed {
  const asked = queryOf(request)
  const names = [...handedNames, ...figureNames]
  const said = names.map((name) => [name, typeof asked[name] === 'string' ? asked[name].slice(0, 3000) : ''])
  return { id: newId(), decidedOn: today(request), ...Object.fromEntries(said) }
}

async function show(request: FastifyRequest, reply: FastifyReply, refused: (RefusedForm & { form: string }) | null) {
  const { group, role } = request.member
  const rows = await rowsOf(request)
  const choices = await request.read((tx) => choicesOfFigures(tx, group.id))
  const asked = formAsked(request)
  const page = {
    ...decisionsPage({ ...rows, choices, today: today(request) }, group),
    of: (form: string) => ({
      typed: refused?.form === form ? refused.typed : handedOver(request),
      errors: refused?.form === form ? refused.errors : {},
      open: refused?.form === form || (refused === null && asked === form),
    }),
    figure: { names: figureNames, choices: { ...choices, besideMethodId: choices.methodId } },
    mayChange: role === 'keeper',
  }
  return reply.page('decisions/decisions', page, { title: words().title, status: refused ? 422 : 200 })
}

function rowsOf(request: FastifyRequest) {
  const { group } = request.member
  return request.readAtOnce(async (tx) => ({
    asked: await recordAsked(tx, request),
    decisions: await decisionsOf(tx, group.id),
    seasons: await seasonsOf(tx, group.id),
  }))
}
