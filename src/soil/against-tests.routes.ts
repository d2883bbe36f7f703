import type { FastifyInstance, FastifyRequest } from 'fastify'
import { atOnce } from '../db/at-once.ts'
import { gardensOf } from '../gardens/gardens.queries.ts'
import { keysOf, recordOf } from '../lookups/keys.ts'
import { logAddress } from '../lookups/log-address.ts'
import { dayIn } from '../quantities/dates.ts'
import { readForm } from '../web/form.ts'
import { notFound } from '../web/problem.ts'
import { textAsked } from '../web/query-of.ts'
import { wordsHere } from '../web/words-here.ts'
import { againstForm, againstToBeginWith } from './against-tests.form.ts'
import { againstPage, gardensTested } from './against-tests.page.ts'
import { ledgerRows } from './ledger.queries.ts'
import { soilTestsOf } from './soil.queries.ts'

const words = () => wordsHere().againstTests

/** What the ledger says of P and K beside what soil tests say, garden by garden. */
export function againstTestsRoutes(app: FastifyInstance): void {
  app.get('/g/:group/soil/against-tests', { config: { access: 'reader' } }, async (request, reply) => {
    const { rows, gardens, garden, typed, form } = await thoughtOver(request)
    const shown =
      garden && rows && form.kind === 'answer' ? againstPage(rows, termsOf(request, garden.id, form.value)) : null
    const page = {
      garden: garden?.id ?? null,
      choices: gardens.map(({ id, name }) => ({ value: id, label: name })),
      typed,
      errors: form.kind === 'refused' ? form.errors : {},
      shown,
      logAddress: shown && logAddressOf(request, shown, typed),
    }
    return reply.page('soil/against-tests', page, { title: words().title, status: form.kind === 'refused' ? 422 : 200 })
  })

  app.get('/g/:group/soil/against-tests.json', { config: { access: 'reader' } }, async (request, reply) => {
    const { rows, garden, form } = await thoughtOver(request)
    if (!garden || !rows) throw notFound()
    if (form.kind === 'refused') return reply.status(422).send({ errors: form.errors })
    const { figures } = againstPage(rows, termsOf(request, garden.id, form.value))
    return { schemaVersion: 1, garden: garden.name, terms: form.value, nutrients: figures }
  })
}

function logAddressOf(
  { member, url }: FastifyRequest,
  { answer, sure }: ReturnType<typeof againstPage>,
  typed: Record<keyof typeof againstToBeginWith, string>,
) {
  if (member.role !== 'keeper') return null
  const { title, fields } = words()
  const assumptions = [...keysOf(againstToBeginWith).map((name) => `${fields[name]}: ${typed[name]}`), ...sure]
  return logAddress(member.group.slug, { question: title, finding: answer, assumptions, from: url })
}

async function thoughtOver(request: FastifyRequest) {
  const { id } = request.member.group
  const asked = textAsked(request, 'garden')
  const { rows, gardens, garden } = await request.readAtOnce(async (tx) => {
    const [all, tests] = await atOnce([gardensOf(tx, id), soilTestsOf(tx, id)])
    const gardens = gardensTested({ gardens: all, tests })
    const garden = gardens.find((one) => one.id === asked) ?? gardens[0] ?? null
    return { rows: garden && { ...(await ledgerRows(tx, id, garden.id)), tests }, gardens, garden }
  })
  const typed = recordOf(
    keysOf(againstToBeginWith),
    (name) => textAsked(request, name)?.slice(0, 20) ?? againstToBeginWith[name],
  )
  return {
    rows,
    gardens,
    garden,
    typed,
    form: readForm(againstForm, typed),
  }
}

interface Terms {
  readonly bulkDensity: number
  readonly laboratoryError: number
  readonly seasons: number
}

function termsOf(request: FastifyRequest, gardenId: string, { bulkDensity, laboratoryError, seasons }: Terms) {
  const { locale, timeZone } = request.member.group
  const today = dayIn(timeZone, new Date())
  return { gardenId, bulkDensity, laboratoryError: laboratoryError / 100, seasons, today, locale }
}
