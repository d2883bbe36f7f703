import type { FastifyInstance, FastifyRequest } from 'fastify'
import { keptRecord } from '../comparison/record/kept-record.queries.ts'
import type { TrialRecord } from '../comparison/record/trial-record.ts'
import { nameIfAny } from '../lookups/unsaid.ts'
import { readForm } from '../web/form.ts'
import { queryOf } from '../web/query-of.ts'
import { wordsHere } from '../web/words-here.ts'
import { type Answered, unanswered } from './answered.ts'
import { askedOver } from './asked-over.ts'
import { thingForm } from './deciding.form.ts'
import { earnedBack } from './earned-back.ts'
import { labourBeside, seasonsOfBoth } from './labour-of-methods.ts'
import { earnedBackPage, thingPage } from './pay-back.page.ts'
import { payBackFigures } from './scenario-figures.ts'
import { stepsOfMethods } from './steps-of-methods.ts'
import { toLog } from './to-log.ts'

const words = () => wordsHere().deciding.payBack
const noThing = { price: '', salvage: '', years: '', rate: '', saved: '' }

export function payBackRoutes(app: FastifyInstance): void {
  app.get('/g/:group/decide/pay-back', { config: { access: 'reader' } }, async (request, reply) => {
    const { group, role } = request.member
    const { record, paid, typed, form } = await thoughtOver(request)
    const earned = paid && earnedBackPage(paid, namesOf(record, paid), group)
    const page = {
      pair: paid,
      methodChoices: record.methods.map(({ id, name }) => ({ value: id, label: name })),
      earned,
      logAddress: earned && role === 'keeper' ? logAddressOf(request, earned) : null,
      typed,
      errors: form?.kind === 'refused' ? form.errors : {},
      thing: form?.kind === 'answer' ? thingPage(form.value, group) : null,
    }
    return reply.page('decisions/pay-back', page, {
      title: words().title,
      status: form?.kind === 'refused' ? 422 : 200,
    })
  })

  app.get('/g/:group/decide/pay-back.json', { config: { access: 'reader' } }, async (request, reply) => {
    const { paid, form } = await thoughtOver(request)
    if (form?.kind === 'refused') return reply.status(422).send({ errors: form.errors })
    return { ...payBackFigures(paid, form?.value ?? null), currency: request.member.group.currency }
  })
}

/** For the page of a season's end: the pair of which most can be said. */
export async function payBackAnswered(request: FastifyRequest): Promise<Answered> {
  const { group } = request.member
  const { record, paid } = await thoughtOver(request)
  if (!paid) return unanswered('payBack')
  const { names, answer, sure, handed } = earnedBackPage(paid, namesOf(record, paid), group)
  return {
    key: 'payBack',
    about: words().question(names.own, names.other),
    answer,
    sure: sure.slice(0, 1),
    change: null,
    handed,
  }
}

function logAddressOf({ url, member }: FastifyRequest, { names, answer, handed }: ReturnType<typeof earnedBackPage>) {
  const question = words().question(names.own, names.other)
  return toLog(member.group, { ...handed, question, finding: answer, from: url })
}

async function thoughtOver(request: FastifyRequest) {
  const asked = queryOf(request)
  const { record } = await keptRecord(request)
  const pair = pairOf(record, asked)
  const typed = askedOver(noThing, asked)
  const any = Object.values(typed).some((value) => value !== '')
  return {
    record,
    paid: pair && paidFor(record, pair, request.member.group.labourRateMinorPerHour ?? null),
    typed,
    form: any ? readForm(thingForm(request.member.group), typed) : null,
  }
}

function paidFor(record: TrialRecord, pair: { own: string; other: string }, wage: number | null) {
  const seasons = seasonsOfBoth(record, pair.own, pair.other)
  return { ...pair, beside: labourBeside(seasons), steps: stepsOfMethods(seasons, wage) }
}

function namesOf({ methods }: TrialRecord, { own, other }: { own: string; other: string }) {
  const nameOf = (id: string) => nameIfAny(methods.find((method) => method.id === id))
  return { own: nameOf(own), other: nameOf(other) }
}

/**
 * The two methods asked for; otherwise the pair of which most can be said: earned back, or still owing and saving; of
 * several alike the most establishing.
 */
function pairOf(record: TrialRecord, asked: Record<string, unknown>): { own: string; other: string } | null {
  const ids = record.methods.map((method) => method.id)
  const asking = ids.find((id) => id === asked.own)
  const pairs = ids.flatMap((own) => ids.filter((id) => id !== own).map((other) => ({ own, other })))
  const allowed = pairs.filter((pair) => pair.own === (asking ?? pair.own))
  const wanted = allowed.find((pair) => pair.other === asked.other)
  return wanted ?? mostSaid(record, allowed) ?? allowed[0] ?? null
}

const inOrder = ['earned back', 'not yet', 'not within', 'never more', 'no season'] as const

function mostSaid(record: TrialRecord, pairs: readonly { own: string; other: string }[]) {
  const ranked = pairs.map((pair) => {
    const seasons = seasonsOfBoth(record, pair.own, pair.other)
    const rank = inOrder.indexOf(earnedBack(stepsOfMethods(seasons, null).hours).kind)
    return { pair, rank, founding: labourBeside(seasons).establishing.minutes }
  })
  return ranked.sort((a, b) => a.rank - b.rank || b.founding - a.founding)[0]?.pair
}
