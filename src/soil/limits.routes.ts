import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import { ofTable } from '../db/amend.ts'
import { constraintOf } from '../db/constraint.ts'
import { newId } from '../db/new-id.ts'
import { perAreaAsTyped } from '../quantities/as-typed.ts'
import { dayIn } from '../quantities/dates.ts'
import { type Correctable, choicesOf, correcting } from '../web/correcting.ts'
import { type RefusedForm, readForm, refuseForm, saidOf } from '../web/form.ts'
import { wordsHere } from '../web/words-here.ts'
import { limitCorrection, limitForm } from './limits.form.ts'
import { limitsPage } from './limits.page.ts'
import { saveLimit, spreadingLimitsOf } from './limits.queries.ts'
import { spreadingLimits } from './limits.table.ts'

const words = () => wordsHere().limits
const f = () => words().fields
const oneADay = 'spreading_limits_one_a_day'
const page = (request: FastifyRequest) => `/g/${request.member.group.slug}/soil/limits`

/** What local rules allow to be spread: written down once by a keeper, read by the ledger and the dressing. */
export function limitRoutes(app: FastifyInstance): void {
  app.get('/g/:group/soil/limits', { config: { access: 'reader' } }, (request, reply) => show(request, reply, null))

  app.post('/g/:group/soil/limits', { config: { access: 'keeper' } }, async (request, reply) => {
    const form = readForm(limitForm, request.body)
    if (form.kind === 'refused') return show(request, reply, form)
    const { group, personId } = request.member
    try {
      const author = { groupId: group.id, createdBy: personId }
      const errors = saidOf(await request.write((tx) => saveLimit(tx, author, form.value)))
      if (errors) return show(request, reply, refuseForm(request.body, errors))
    } catch (error) {
      if (constraintOf(error) !== oneADay) throw error
      return show(request, reply, refuseForm(request.body, { fromDay: words().taken }))
    }
    return reply.backTo(page(request), words().saved)
  })

  correcting(app, limit)
}

type LimitRow = typeof spreadingLimits.$inferSelect

const limit: Correctable<LimitRow, object> = {
  ...ofTable(spreadingLimits),
  kind: 'spreading-limits',
  access: 'keeper',
  title: ({ source, nutrient }) => `${words().sources[source]}, ${words().nutrients[nutrient]}`,
  fields: (row) => [
    { name: 'source', label: f().source, value: row.source, options: choicesOf(words().sources) },
    { name: 'nutrient', label: f().nutrient, value: row.nutrient, options: choicesOf(words().nutrients) },
    {
      name: 'mostMgPerM2',
      label: f().most,
      hint: f().mostHint,
      value: row.mostMgPerM2 === null ? '' : perAreaAsTyped(row.mostMgPerM2),
    },
    { name: 'rule', label: f().rule, value: row.rule },
    { name: 'fromDay', label: f().fromDay, type: 'date', value: row.fromDay },
  ],
  form: () => limitCorrection,
  constraints: {
    [oneADay]: {
      get fromDay() {
        return words().taken
      },
    },
  },
  back: (_row, request) => page(request),
}

async function show(request: FastifyRequest, reply: FastifyReply, refused: RefusedForm | null) {
  const { group, role } = request.member
  const kept = await request.read((tx) => spreadingLimitsOf(tx, group.id))
  const today = dayIn(group.timeZone, new Date())
  const shown = {
    ...limitsPage(kept, { today, locale: group.locale }),
    sourceChoices: choicesOf(words().sources),
    nutrientChoices: choicesOf(words().nutrients),
    typed: refused?.typed ?? { id: newId(), fromDay: today },
    errors: refused?.errors ?? {},
    mayChange: role === 'keeper',
  }
  return reply.page('soil/limits', shown, { title: words().title, status: refused ? 422 : 200 })
}
