import type { FastifyInstance, FastifyRequest } from 'fastify'
import { trialRecord } from '../comparison/record/trial-record.queries.ts'
import type { TrialRecord } from '../comparison/record/trial-record.ts'
import { readForm } from '../web/form.ts'
import { catalogue } from '../words/catalogue.ts'
import { askedOver } from './asked-over.ts'
import { thingForm } from './deciding.form.ts'
import { labourBeside } from './labour-of-methods.ts'
import { establishingPage, thingPage } from './pay-back.page.ts'
import { payBackFigures } from './scenario-figures.ts'

const words = catalogue.deciding.payBack
const noThing = { price: '', salvage: '', years: '', rate: '', saved: '' }

export function payBackRoutes(app: FastifyInstance): void {
  app.get('/g/:group/decide/pay-back', { config: { access: 'reader' } }, async (request, reply) => {
    const { group } = request.member
    const { record, paid, typed, form } = await thoughtOver(request)
    const page = {
      pair: paid,
      methodChoices: record.methods.map(({ id, name }) => ({ value: id, label: name })),
      establishing: paid && establishingPage(paid.beside, group.locale),
      typed,
      errors: form?.kind === 'refused' ? form.errors : {},
      thing: form?.kind === 'answer' ? thingPage(form.value, group) : null,
    }
    return reply.page('decisions/pay-back', page, { title: words.title, status: form?.kind === 'refused' ? 422 : 200 })
  })

  app.get('/g/:group/decide/pay-back.json', { config: { access: 'reader' } }, async (request, reply) => {
    const { paid, form } = await thoughtOver(request)
    if (form?.kind === 'refused') return reply.status(422).send({ errors: form.errors })
    return { ...payBackFigures(paid, form?.value ?? null), currency: request.member.group.currency }
  })
}

async function thoughtOver(request: FastifyRequest) {
  const asked = request.query as Record<string, unknown>
  const record = await request.read((tx) => trialRecord(tx, request.member.group.id))
  const pair = pairOf(record, asked)
  const typed = askedOver(noThing, asked)
  const any = Object.values(typed).some((value) => value !== '')
  return {
    record,
    paid: pair && { ...pair, beside: labourBeside(record, pair.own, pair.other) },
    typed,
    form: any ? readForm(thingForm(request.member.group), typed) : null,
  }
}

/** The two methods asked for; otherwise the one with the most hours of establishing, against the first of the others. */
function pairOf(record: TrialRecord, asked: Record<string, unknown>): { own: string; other: string } | null {
  const founding = (methodId: string) => {
    const other = record.methods.find((method) => method.id !== methodId)
    return other ? labourBeside(record, methodId, other.id).establishing.minutes : 0
  }
  const ids = record.methods.map((method) => method.id)
  const most = [...ids].sort((a, b) => founding(b) - founding(a))[0]
  const own = ids.find((id) => id === asked.own) ?? most
  const other = ids.find((id) => id === asked.other && id !== own) ?? ids.find((id) => id !== own)
  return own && other ? { own, other } : null
}
