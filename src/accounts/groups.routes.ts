import type { FastifyInstance } from 'fastify'
import type { Database, Tx } from '../db/database.ts'
import { readForm } from '../web/form.ts'
import { notFound } from '../web/problem.ts'
import { catalogue } from '../words/catalogue.ts'
import { groupForm, inviteForm } from './accounts.form.ts'
import { acceptInvitation, addGroup, invitationFor, invite, peopleOf } from './members.queries.ts'

const words = catalogue.accounts

export interface GroupOptions {
  /** Adds what every new group starts with, such as the first list of crops. */
  readonly furnish: (tx: Tx, groupId: string) => Promise<void>
}

export function groupRoutes(app: FastifyInstance, database: Database, { furnish }: GroupOptions): void {
  const fresh = { currency: '', timeZone: '', locale: '', weightUnit: 'kg', areaUnit: 'm2' }

  app.get('/groups/new', { config: { access: 'person' } }, async (_request, reply) =>
    reply.page('accounts/new-group', { typed: fresh, errors: {} }, { title: words.group.newTitle }),
  )

  app.post('/groups', { config: { access: 'person' } }, async (request, reply) => {
    const form = readForm(groupForm, request.body)
    if (form.kind === 'refused') {
      const { errors, typed } = form
      return reply.page('accounts/new-group', { typed, errors }, { title: words.group.newTitle, status: 422 })
    }
    const group = await addGroup(database, request.person?.id ?? '', form.value, furnish)
    return reply.backTo(`/g/${group.slug}`, words.group.started)
  })

  app.get('/g/:group/people', { config: { access: 'reader' } }, async (request, reply) => {
    const people = await request.read((tx) => peopleOf(tx, request.member.group.id))
    const page = { people, link: null, mayInvite: request.member.role === 'keeper' }
    return reply.page('accounts/people', page, { title: words.people.title })
  })

  app.post('/g/:group/people/invitations', { config: { access: 'keeper' } }, async (request, reply) => {
    const form = readForm(inviteForm, request.body)
    const { id, slug } = request.member.group
    if (form.kind === 'refused') return reply.backTo(`/g/${slug}/people`)
    const token = await request.write((tx) => invite(tx, id, request.member.personId, form.value.role))
    const people = await request.read((tx) => peopleOf(tx, id))
    const link = `${request.protocol}://${request.host}/invitations/${token}`
    return reply.page('accounts/people', { people, link, mayInvite: true }, { title: words.people.title })
  })

  app.get<{ Params: { token: string } }>(
    '/invitations/:token',
    { config: { access: 'public' } },
    async (request, reply) => {
      const invitation = await invitationFor(database, request.params.token)
      if (!invitation) throw notFound()
      const title = words.people.acceptTitle(invitation.groupName)
      const page = { title, role: invitation.role, address: request.url, signedIn: request.person !== null }
      return reply.page('accounts/invitation', page, { title })
    },
  )

  app.post<{ Params: { token: string } }>(
    '/invitations/:token',
    { config: { access: 'person' } },
    async (request, reply) => {
      const slug = await acceptInvitation(database, request.params.token, request.person?.id ?? '')
      if (!slug) throw notFound()
      return reply.backTo(`/g/${slug}`, words.people.joined)
    },
  )
}
