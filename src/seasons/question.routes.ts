import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import { constraintOf } from '../db/constraint.ts'
import { newId } from '../db/new-id.ts'
import { methodsOf } from '../gardens/gardens.queries.ts'
import { asShown } from '../lookups/unsaid.ts'
import { dayIn } from '../quantities/dates.ts'
import { formatDay } from '../quantities/formatting.ts'
import { type RefusedForm, readForm, refuseForm } from '../web/form.ts'
import { notFound } from '../web/problem.ts'
import { wordsHere } from '../web/words-here.ts'
import { lockedLate } from './locked-late.ts'
import { questionForm } from './question.form.ts'
import { lockQuestion, questionOf, saveQuestion, type Terms } from './question.queries.ts'
import { cropsOf, plantingsOf, seasonsOf } from './seasons.queries.ts'

const words = () => wordsHere().question
interface SeasonRoute {
  Params: { season: string }
}
type SeasonRequest = FastifyRequest<SeasonRoute>

/** What the group wants to find out, fixed before the season with the sentence for either result. */
export function questionRoutes(app: FastifyInstance): void {
  app.get<SeasonRoute>('/g/:group/seasons/:season/question', { config: { access: 'reader' } }, (request, reply) =>
    show(request, reply, null),
  )

  app.post<SeasonRoute>(
    '/g/:group/seasons/:season/question',
    { config: { access: 'keeper' } },
    async (request, reply) => {
      const form = readForm(questionForm, request.body)
      if (form.kind === 'refused') return show(request, reply, form)
      const { group, personId } = request.member
      const { weights, mix, outsideLosses, crops, pairs, ...given } = form.value
      const author = { groupId: group.id, createdBy: personId }
      const terms = { weights, mix, outsideLosses, crops, pairs }
      try {
        const known = await request.read((tx) => methodsOf(tx, group.id))
        const isKnown = (id: string) => known.some((one) => one.id === id)
        if (!pairs.every((one) => isKnown(one.methodA) && isKnown(one.methodB)))
          return show(request, reply, refuseForm(request.body, { pairs: wordsHere().fields.notChosen }))
        const saved = await request.write((tx) => saveQuestion(tx, author, request.params.season, { ...given, terms }))
        if (!saved) return showMeanwhile(request, reply)
      } catch (error) {
        const sentence = refusals[constraintOf(error)]
        if (!sentence) throw error
        return show(request, reply, refuseForm(request.body, sentence))
      }
      return reply.backTo(`/g/${group.slug}/seasons/${request.params.season}/question`, words().saved)
    },
  )

  app.post<SeasonRoute>(
    '/g/:group/seasons/:season/question/lock',
    { config: { access: 'keeper' } },
    async (request, reply) => {
      const { group } = request.member
      const locked = await request.write((tx) => lockQuestion(tx, group.id, request.params.season))
      if (!locked) throw notFound()
      return reply.backTo(`/g/${group.slug}/seasons/${request.params.season}/question`, words().locked, null)
    },
  )
}

const refusals: Record<string, Record<string, string>> = {
  locked_questions_never_change: {
    get question() {
      return words().isLocked
    },
  },
  season_questions_method: {
    get referenceMethodId() {
      return wordsHere().fields.notChosen
    },
  },
  season_questions_season: {
    get question() {
      return wordsHere().problem['not-found'].heading
    },
  },
}

/** What was typed, to be put in the place of what somebody else wrote meanwhile or to be left. */
async function showMeanwhile(request: SeasonRequest, reply: FastifyReply) {
  const { id } = request.member.group
  const now = await request.read((tx) => questionOf(tx, id, request.params.season))
  if (now?.lockedAt) return show(request, reply, refuseForm(request.body, { question: words().isLocked }))
  const sentence = now ? words().changedMeanwhile(now.question) : wordsHere().problem['not-found'].heading
  const refused = refuseForm(request.body, { question: sentence })
  return show(request, reply, { ...refused, typed: { ...refused.typed, version: asShown(now?.version) } }, 409)
}

async function show(request: SeasonRequest, reply: FastifyReply, refused: RefusedForm | null, status = 422) {
  const { group, role } = request.member
  const rows = await request.read(async (tx) => ({
    methods: await methodsOf(tx, group.id),
    question: await questionOf(tx, group.id, request.params.season),
    seasons: await seasonsOf(tx, group.id),
    crops: await cropsOf(tx, group.id),
    plantings: await plantingsOf(tx, group.id),
  }))
  const { question, seasons } = rows
  const season = seasons.find((one) => one.id === request.params.season)
  if (!season) throw notFound()
  const terms = question && (question.terms as Terms)
  const stored = question && { ...question, ...terms, pairs: terms?.pairs?.map(pairValue), terms: undefined }
  const lockedOn = question?.lockedAt ? dayIn(group.timeZone, question.lockedAt) : null
  const typed = (question?.lockedAt ? stored : refused?.typed) ?? stored ?? { id: newId(), seasonsToLookAt: '3' }
  const pairChoices = pairsOf(rows.methods, 'pairs' in typed ? typed.pairs : [])
  const page = {
    season: { id: season.id, name: season.name },
    begun: lockedLate(dayIn(group.timeZone, new Date()), [season]),
    lockedOn: lockedOn && formatDay(lockedOn, group.locale),
    late: lockedOn !== null && lockedLate(lockedOn, [season]),
    stored: question !== undefined,
    typed,
    errors: refused?.errors ?? {},
    next: seasons[seasons.indexOf(season) + 1] ?? null,
    cropNames: cropsToChoose(rows.crops, rows.plantings),
    pairChoices,
    pairsSaid: pairChoices.flatMap((one) => (one.checked ? [one.label] : [])).join(', ') || words().allPairs,
    methodChoices: rows.methods.map(({ id, name }) => ({ value: id, label: name })),
    mayChange: role === 'keeper',
  }
  return reply.page('seasons/question', page, { title: words().title(season.name), status: refused ? status : 200 })
}

const pairValue = ({ methodA, methodB }: { methodA: string; methodB: string }) => `${methodA} ${methodB}`

/** Every pair of methods once, the later one beside the earlier of the group's list. */
function pairsOf(methods: readonly { id: string; name: string }[], typed: unknown) {
  const named: unknown[] = [typed].flat()
  return methods.flatMap((a, i) =>
    methods.slice(i + 1).map((b) => {
      const value = pairValue({ methodA: a.id, methodB: b.id })
      return { value, label: words().pair(b.name, a.name), checked: named.includes(value) }
    }),
  )
}

/** Those that were ever planted here, or all that the group knows while nothing was. */
function cropsToChoose(crops: readonly { name: string }[], planted: readonly { crop: string }[]): string[] {
  const names = planted.length > 0 ? planted.map((one) => one.crop) : crops.map((one) => one.name)
  return [...new Set(names)].sort()
}
