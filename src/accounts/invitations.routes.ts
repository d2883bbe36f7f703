import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import type { Database } from '../db/database.ts'
import { linkOf } from '../lookups/unsaid.ts'
import { dayIn } from '../quantities/dates.ts'
import { uuid } from '../web/fields.ts'
import { type RefusedForm, readForm } from '../web/form.ts'
import { notFound, Problem } from '../web/problem.ts'
import { addressPart } from '../web/query-of.ts'
import { wordsHere } from '../web/words-here.ts'
import { wordsFor } from '../words/locales.ts'
import { inviteForm, usualLastDay } from './accounts.form.ts'
import { acceptInvitation, endInvitation, invitationFor, invite, openInvitationsOf } from './invitations.queries.ts'
import { peopleOf } from './members.queries.ts'
import { invitationLines } from './people.page.ts'

const words = () => wordsHere().people

interface OfLink {
  Params: { token: string }
}

/** All people of a group on one page, and the links by which more of them come in. */
export function invitationRoutes(app: FastifyInstance, database: Database): void {
  app.get('/g/:group/people', { config: { access: 'reader' } }, (request, reply) => show(request, reply))

  app.post('/g/:group/people/invitations', { config: { access: 'keeper' } }, async (request, reply) => {
    const { group, personId } = request.member
    const form = readForm(inviteForm(todayOf(request)), request.body)
    if (form.kind === 'refused') return show(request, reply, { refused: form })
    const wanted = { groupId: group.id, personId, timeZone: group.timeZone, ...form.value }
    const token = await request.write((tx) => invite(tx, wanted))
    return show(request, reply, { link: `${request.protocol}://${request.host}/invitations/${token}` })
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
    if (!invitation) throw new Problem('lets-nobody-in')
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
}

interface Shown {
  readonly link?: string
  readonly refused?: RefusedForm
}

async function show(request: FastifyRequest, reply: FastifyReply, { link, refused }: Shown = {}) {
  const { group, role, visiting } = request.member
  const keeps = role === 'keeper'
  const { people, invited } = await request.read(async (tx) => ({
    people: await peopleOf(tx, group.id),
    invited: keeps ? await openInvitationsOf(tx, group.id) : [],
  }))
  const page = {
    people,
    keeps,
    visiting: visiting ?? false,
    link: link ?? null,
    roles: ['recorder', 'reader', 'keeper'],
    invited: invitationLines(invited, group),
    typed: { role: 'recorder', places: '1', lastDay: usualLastDay(todayOf(request)), ...refused?.typed },
    errors: refused?.errors ?? {},
  }
  return reply.page('accounts/people', page, { title: words().title, status: refused ? 422 : 200 })
}

const todayOf = ({ member }: FastifyRequest) => dayIn(member.group.timeZone, new Date())
