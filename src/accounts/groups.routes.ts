import type { FastifyInstance, FastifyReply } from 'fastify'
import type { Database, Tx } from '../db/database.ts'
import { linkOf, sent } from '../lookups/unsaid.ts'
import { type RefusedForm, readForm } from '../web/form.ts'
import { wordsHere } from '../web/words-here.ts'
import { newGroupForm } from './accounts.form.ts'
import { countryOf } from './countries.ts'
import { groupChoices, zonesToChoose } from './group-choices.page.ts'
import { addGroup } from './members.queries.ts'

const words = () => wordsHere().accounts

interface GroupOptions {
  /** Adds what every new group starts with, such as the first list of crops. */
  readonly furnish: (tx: Tx, groupId: string) => Promise<void>
}

export function groupRoutes(app: FastifyInstance, database: Database, { furnish }: GroupOptions): void {
  app.get('/groups/new', { config: { access: 'person' } }, async (_request, reply) => asked(reply, null))

  app.post('/groups', { config: { access: 'person' } }, async (request, reply) => {
    const form = readForm(newGroupForm, request.body)
    if (form.kind === 'refused') return asked(reply, newGroupRefused(form))
    const group = await addGroup(database, linkOf(request.person?.id), form.value, furnish)
    const { currency, timeZone, locale } = group
    return reply.backTo(`/g/${group.slug}/setting-up`, words().group.started({ currency, timeZone, locale }))
  })
}

/** The first page of setting up: a name and a country. */
function asked(reply: FastifyReply, refused: RefusedForm | null) {
  const choices = groupChoices('en', words().group, sent(refused?.typed.country))
  const page = { typed: refused?.typed ?? {}, errors: refused?.errors ?? {}, choices }
  return reply.page('accounts/new-group', page, { title: words().group.newTitle, status: refused ? 422 : 200 })
}

/** Without a country and without what it would have said, it is the country that is missing. */
function newGroupRefused(form: RefusedForm): RefusedForm {
  const { name, timeZone, ...errors } = form.errors
  const code = sent(form.typed.country)
  const zones = zonesToChoose(code)
  const said: Record<string, string> = name === undefined ? {} : { name }
  if (!countryOf(code) && !form.typed.currency)
    return { ...form, errors: { ...said, country: words().group.noCountry } }
  if (timeZone !== undefined) said.timeZone = zones.length > 0 ? words().group.severalTimes : timeZone
  return { ...form, errors: { ...said, ...errors } }
}
