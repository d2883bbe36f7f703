import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import { constraintOf } from '../db/constraint.ts'
import type { Database, Tx } from '../db/database.ts'
import { uuid } from '../web/fields.ts'
import { readForm } from '../web/form.ts'
import { notFound, Problem } from '../web/problem.ts'
import { addressPart, fieldsOf } from '../web/query-of.ts'
import { wordsHere } from '../web/words-here.ts'
import { roleForm, takeOutForm } from './accounts.form.ts'
import { type Mailing, tellingBy } from './letters.queries.ts'
import { leave, memberNamed, saveRole, takeOut } from './membership.queries.ts'

const words = () => wordsHere().people

/** What a keeper does with a member, and leaving by oneself. The database says no where it would leave no keeper. */
export function peopleRoutes(app: FastifyInstance, database: Database, { mailing }: { mailing: Mailing | null }): void {
  const tell = tellingBy(database, mailing)
  app.get('/g/:group/people/:person', { config: { access: 'keeper' } }, (request, reply) => show(request, reply))

  app.post('/g/:group/people/:person/role', { config: { access: 'keeper' } }, async (request, reply) => {
    const { id } = await memberAsked(request)
    const form = readForm(roleForm, request.body)
    if (form.kind === 'refused') return show(request, reply, { errors: form.errors, status: 422 })
    const { group } = request.member
    const done = await withKeeperLeft(request, (tx) => saveRole(tx, group.id, id, form.value.role))
    if (!done) return show(request, reply, { errors: { role: words().lastKeeper }, status: 409 })
    await tell(id, (letters) => letters.role(group.name, form.value.role))
    return reply.backTo(`/g/${group.slug}/people`, words().roleSaved)
  })

  app.post('/g/:group/people/:person/removal', { config: { access: 'keeper' } }, async (request, reply) => {
    const { id } = await memberAsked(request)
    const form = readForm(takeOutForm, request.body)
    if (form.kind === 'refused') return show(request, reply, { errors: form.errors, status: 422 })
    const { group } = request.member
    const done = await withKeeperLeft(request, (tx) => takeOut(tx, group.id, id), form.value.reason ?? undefined)
    if (!done) return show(request, reply, { errors: { id: words().lastKeeper }, status: 409 })
    await tell(id, (letters) => letters.takenOut(group.name))
    return reply.backTo(`/g/${group.slug}/people`, words().takenOut)
  })

  app.get('/g/:group/people/leave', { config: { access: 'reader' } }, (_request, reply) => leaving(reply))

  app.post('/g/:group/people/leave', { config: { access: 'reader' } }, async (request, reply) => {
    const { group, personId } = request.member
    if (personId === null) throw new Problem('only-looking')
    const { sure } = fieldsOf(request.body)
    if (sure !== 'yes') return leaving(reply)
    const done = await withKeeperLeft(request, (tx) => leave(tx, group.id, personId))
    return done ? reply.backTo('/', words().left) : leaving(reply, { id: words().lastKeeper })
  })

  async function memberAsked(request: FastifyRequest) {
    const person = addressPart(request, 'person')
    const member =
      uuid().safeParse(person).success && (await request.read((tx) => memberNamed(tx, request.member.group.id, person)))
    if (!member) throw notFound()
    return member
  }

  async function show(request: FastifyRequest, reply: FastifyReply, { errors = {}, status = 200 }: Shown = {}) {
    const member = await memberAsked(request)
    const roles = ['reader', 'recorder', 'keeper'] as const
    const page = { member, roles, errors, isSelf: member.id === request.member.personId }
    return reply.page('accounts/person', page, { title: member.name, status })
  }
}

interface Shown {
  readonly errors?: Readonly<Record<string, string>>
  readonly status?: number
}

function leaving(reply: FastifyReply, errors: Shown['errors'] = {}) {
  const status = Object.keys(errors).length > 0 ? 409 : 200
  return reply.page('accounts/leave', { errors }, { title: words().leave, status })
}

/** False where the group would have no keeper left. Whoever was a keeper a moment ago and is none now is told so. */
async function withKeeperLeft(
  request: FastifyRequest,
  work: (tx: Tx) => Promise<void>,
  reason?: string,
): Promise<boolean> {
  try {
    await request.write(work, reason)
    return true
  } catch (error) {
    const refused = constraintOf(error)
    if (refused === 'group_keeps_a_keeper') return false
    if (refused === 'members_are_changed_by_keepers') throw new Problem('keepers-only')
    if (refused === 'invitations_are_made_by_keepers') throw new Problem('keepers-only')
    throw error
  }
}
