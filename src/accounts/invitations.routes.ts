import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import type { Database } from '../db/database.ts'
import { linkOf } from '../lookups/unsaid.ts'
import { dayIn } from '../quantities/dates.ts'
import { uuid } from '../web/fields.ts'
import { type RefusedForm, readForm } from '../web/form.ts'
import { notFound, Problem } from '../web/problem.ts'
import { addressPart, textSent } from '../web/query-of.ts'
import { wordsHere } from '../web/words-here.ts'
import { wordsFor } from '../words/locales.ts'
import { inviteForm, usualLastDay } from './accounts.form.ts'
import { awaitedOf, awaitNoMore } from './awaited.queries.ts'
import { membersWithFactor } from './factors.queries.ts'
import { acceptInvitation, endInvitation, invitationFor, invite, openInvitationsOf } from './invitations.queries.ts'
import type { Mailing } from './letters.queries.ts'
import { groupAsItStands, peopleOf } from './members.queries.ts'
import { groupsSaid } from './own-account.page.ts'
import { invitationLines } from './people.page.ts'
import { placeOf } from './place.ts'
import { mayTry } from './sessions.queries.ts'

const words = () => wordsHere().people
/** Links that lead nowhere, opened from one place in a quarter of an hour. */
const mostUnknown = 60
/** Links that a group makes in an hour: each lets up to fifty people in. */
const mostMade = 60

interface OfLink {
  Params: { token: string }
}

/** All people of a group on one page, and the links by which more of them come in. */
export function invitationRoutes(
  app: FastifyInstance,
  database: Database,
  { mailing, withPasskeys }: { mailing: Mailing | null; withPasskeys: boolean },
): void {
  app.get('/g/:group/people', { config: { access: 'reader' } }, (request, reply) => show(request, reply))

  app.post('/g/:group/people/awaited/:awaited', { config: { access: 'keeper' } }, async (request, reply) => {
    const { group, personId } = request.member
    const awaited = addressPart(request, 'awaited')
    if (!uuid().safeParse(awaited).success) throw notFound()
    const how = textSent(request.body, 'how')
    const lastDay = usualLastDay(todayOf(request))
    const { timeZone } = group
    const come = await request.write(async (tx) => {
      const person = await awaitNoMore(tx, group.id, awaited)
      if (!person || how === 'no') return { person, token: null }
      const wanted = { groupId: group.id, personId, role: person.role, places: 1, lastDay, timeZone }
      return { person, token: await invite(tx, wanted) }
    })
    if (!come.person) throw notFound()
    if (come.token === null) return reply.backTo(`/g/${group.slug}/people`, words().awaitedNoMore, null)
    const to = come.person.email
    if (how !== 'letter' || to === null || mailing === null)
      return show(request, reply, { link: linkToShow(request, come.token) })
    const { letters } = wordsFor(group.locale).account
    mailing.post.send({ to, ...letters.invited(group.name, `${mailing.origin}/invitations/${come.token}`) })
    return reply.backTo(`/g/${group.slug}/people`, words().letterSent, null)
  })

  app.post('/g/:group/people/invitations', { config: { access: 'keeper' } }, async (request, reply) => {
    const { group, personId } = request.member
    const form = readForm(inviteForm(todayOf(request)), request.body)
    if (form.kind === 'refused') return show(request, reply, { refused: form })
    if (!(await mayTry(database, `invitations of ${group.id}`, mostMade, 60))) throw new Problem('too-often')
    const wanted = { groupId: group.id, personId, timeZone: group.timeZone, ...form.value }
    const token = await request.write((tx) => invite(tx, wanted))
    return show(request, reply, { link: linkToShow(request, token) })
  })

  app.post('/g/:group/people/invitations/:invitation/end', { config: { access: 'keeper' } }, async (request, reply) => {
    const { id, slug } = request.member.group
    const invitation = addressPart(request, 'invitation')
    if (!uuid().safeParse(invitation).success) throw notFound()
    await request.write((tx) => endInvitation(tx, id, invitation))
    return reply.backTo(`/g/${slug}/people`, words().ended)
  })

  app.get<OfLink>('/invitations/:token', { config: { access: 'public' } }, async (request, reply) => {
    const invitation = await invitationFor(database, request.params.token)
    if (!invitation) {
      // Only those that lead nowhere are counted: a whole class may open one link from one place.
      const mayGoOn = await mayTry(database, `unknown invitation ${placeOf(request.ip)}`, mostUnknown)
      throw new Problem(mayGoOn ? 'lets-nobody-in' : 'too-often')
    }
    const { groupName, locale, role } = invitation
    const title = wordsFor(locale).people.acceptTitle(groupName)
    const page = { groupName, role, address: request.url, signedIn: request.person !== null }
    return reply.page('accounts/invitation', page, { title, locale })
  })

  app.post<OfLink>('/invitations/:token', { config: { access: 'person' } }, async (request, reply) => {
    const come = await acceptInvitation(database, request.params.token, linkOf(request.person?.id))
    if (!come) throw new Problem('lets-nobody-in')
    return reply.backTo(`/g/${come.slug}`, come.joined ? words().joined : words().alreadyIn)
  })

  async function show(request: FastifyRequest, reply: FastifyReply, { link, refused }: Shown = {}) {
    const { group, role, visiting } = request.member
    const keeps = role === 'keeper'
    const { people, asks, invited, awaited } = await request.read(async (tx) => ({
      people: await peopleOf(tx, group.id),
      asks: (await groupAsItStands(tx, group.id))?.asksFactor === 1,
      invited: keeps ? await openInvitationsOf(tx, group.id) : [],
      awaited: keeps ? await awaitedOf(tx, group.id) : [],
    }))
    const had = keeps ? await membersWithFactor(database, group.id, withPasskeys) : new Set()
    const without = people.filter(({ id }) => !had.has(id)).map(({ name }) => name)
    const page = {
      people: people.map((one) => ({ ...one, withFactor: had.has(one.id) })),
      asks,
      without: keeps && without.length > 0 ? groupsSaid(without, group.locale) : null,
      factorShown: request.factorShown,
      keeps,
      visiting: visiting ?? false,
      link: link ?? null,
      roles: ['recorder', 'reader', 'keeper'],
      invited: invitationLines(invited, group),
      awaited,
      byMail: mailing !== null,
      typed: { role: 'recorder', places: '1', lastDay: usualLastDay(todayOf(request)), ...refused?.typed },
      errors: refused?.errors ?? {},
    }
    return reply.page('accounts/people', page, { title: words().title, status: refused ? 422 : 200 })
  }
}

interface Shown {
  readonly link?: string
  readonly refused?: RefusedForm
}

const linkToShow = ({ protocol, host }: FastifyRequest, token: string) => `${protocol}://${host}/invitations/${token}`

const todayOf = ({ member }: FastifyRequest) => dayIn(member.group.timeZone, new Date())
