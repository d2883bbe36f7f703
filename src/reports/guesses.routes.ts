import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import { matchedSeason, plainRules } from '../comparison/matched/matched-season.ts'
import { recordKeptAt } from '../comparison/record/kept-record.queries.ts'
import type { TrialRecord } from '../comparison/record/trial-record.ts'
import { methodsOfBeds } from '../comparison/totals/method-totals.ts'
import { constraintOf } from '../db/constraint.ts'
import { asShown, linkOf, nameIfAny, sent } from '../lookups/unsaid.ts'
import { questionsOf, type Terms } from '../seasons/question.queries.ts'
import { seasonsOf } from '../seasons/seasons.queries.ts'
import { type RefusedForm, readForm, refuseForm } from '../web/form.ts'
import { notFound, Problem } from '../web/problem.ts'
import { wordsHere } from '../web/words-here.ts'
import { guessForm } from './guesses.form.ts'
import { guessRows, type SeasonGuessed } from './guesses.page.ts'
import { type Guess, guessesOf, saveGuess } from './guesses.queries.ts'

const words = () => wordsHere().guesses
interface SeasonRoute {
  Params: { season: string }
}
type SeasonRequest = FastifyRequest<SeasonRoute>

/** A guess before looking: which method gives more, and by how much; the results stand beside it over the years. */
export function guessRoutes(app: FastifyInstance): void {
  app.get<SeasonRoute>('/g/:group/guesses/:season', { config: { access: 'reader' } }, (request, reply) =>
    show(request, reply, null),
  )

  app.post<SeasonRoute>('/g/:group/guesses/:season', { config: { access: 'reader' } }, async (request, reply) => {
    const { group, personId } = request.member
    if (!personId) throw new Problem('only-looking')
    const { season, methods, referenceId } = await seasonAsked(request)
    const form = readForm(guessForm, request.body)
    if (form.kind === 'refused') return show(request, reply, form)
    const given = methods.flatMap(({ id }) => {
      const percent = form.value.guesses[id]
      return percent === undefined ? [] : [{ methodId: id, percent }]
    })
    if (given.length < methods.length)
      return show(request, reply, refuseForm(request.body, { guesses: words().allOfThem }))
    const author = { personId, seasonId: season.id, referenceMethodId: referenceId }
    try {
      await request.write(async (tx) => {
        for (const one of given) await saveGuess(tx, group.id, { ...author, ...one })
      })
    } catch (error) {
      if (constraintOf(error) !== 'guesses_end_with_the_season') throw error
      return show(request, reply, refuseForm(request.body, { guesses: words().closed }))
    }
    const said = season.closedAt ? words().savedForGood : words().saved
    return reply.backTo(`/g/${group.slug}/guesses/${season.id}`, said, null)
  })
}

async function seasonAsked(request: SeasonRequest) {
  const years = await yearsOf(request)
  const found = years.find((one) => one.season.id === request.params.season)
  if (!found) throw notFound()
  return { ...found, years }
}

interface Year extends SeasonGuessed {
  readonly referenceId: string
  readonly reference: string
  readonly guesses: readonly Guess[]
}

/** Every season with its methods beside the reference, what was guessed and what was seen. */
async function yearsOf(request: FastifyRequest): Promise<Year[]> {
  const { group } = request.member
  const rows = await request.readAtOnce(async (tx) => ({
    record: (await recordKeptAt(tx, request)).record,
    seasons: await seasonsOf(tx, group.id),
    questions: await questionsOf(tx, group.id),
    guesses: await guessesOf(tx, group.id),
  }))
  return rows.seasons.map(({ id, name, closedAt }) => {
    const own = rows.guesses.filter((one) => one.seasonId === id)
    const locked = rows.questions.find((one) => one.seasonId === id && one.lockedAt !== null)
    const there = new Set(methodsOfBeds(rows.record, id).values())
    const here = rows.record.methods.filter((one) => there.has(one.id))
    const reference = referenceOf(here, own, locked?.referenceMethodId)
    const rules = locked ? (locked.terms as Terms) : plainRules
    const beside = here.filter((one) => one.id !== reference?.id)
    return {
      season: { id, name, closedAt },
      referenceId: asShown(reference?.id),
      reference: nameIfAny(reference),
      guesses: own,
      methods: beside.map((one) => ({
        ...one,
        result: ratioOf(rows.record, id, [linkOf(reference?.id), one.id], rules),
      })),
    }
  })
}

/** What was guessed against stays the reference of that season, whatever is locked afterwards. */
function referenceOf(here: readonly { id: string; name: string }[], own: readonly Guess[], locked?: string | null) {
  const wanted = own[0]?.referenceMethodId ?? locked
  return here.find((one) => one.id === wanted) ?? here[0]
}

function ratioOf(record: TrialRecord, seasonId: string, pair: readonly [string, string], rules: Terms): number | null {
  const found = matchedSeason(record, seasonId, { methodA: pair[0], methodB: pair[1] }, rules)
  return found.kind === 'refused' ? null : Math.exp(found.logRatio)
}

async function show(request: SeasonRequest, reply: FastifyReply, refused: RefusedForm | null) {
  const { personId, group } = request.member
  const { season, methods, guesses, reference, years } = await seasonAsked(request)
  const mine = guesses.filter((one) => one.personId === personId)
  const page = {
    season: { id: season.id, name: season.name },
    reference,
    visitor: personId === null,
    mayGuess: personId !== null && methods.length > 0 && (season.closedAt === null || mine.length < methods.length),
    isOpen: season.closedAt === null,
    given: mine.length > 0,
    methods: methods.map(({ id, name }) => ({ id, name, ...typedOf(id, mine, refused) })),
    errors: refused?.errors ?? {},
    rows: guessRows(years, personId, group.locale),
  }
  const title = words().title(season.name)
  return reply.page('reports/guesses', page, { title, status: refused ? 422 : 200 })
}

type TypedGuesses = Readonly<Record<string, { way?: unknown; percent?: unknown } | undefined>>

function typedOf(methodId: string, mine: readonly Guess[], refused: RefusedForm | null) {
  const typed = (refused?.typed.guesses as TypedGuesses | undefined)?.[methodId]
  if (typed) return { way: sent(typed.way), percent: sent(typed.percent) }
  const stored = mine.find((one) => one.methodId === methodId)?.percent
  if (stored === undefined) return { way: '', percent: '' }
  if (stored === 0) return { way: 'alike', percent: '' }
  return { way: stored > 0 ? 'more' : 'less', percent: String(Math.abs(stored)) }
}
