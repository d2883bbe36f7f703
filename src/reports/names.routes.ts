import type { FastifyInstance } from 'fastify'
import { readForm } from '../web/form.ts'
import { wordsHere } from '../web/words-here.ts'
import { namingsOf, saveNamings } from './names.queries.ts'
import { namesForm } from './report.form.ts'

const words = () => wordsHere().reports.names

/** Who agreed to be named on reports: nobody, until a keeper writes it down for a person. */
export function nameRoutes(app: FastifyInstance): void {
  app.get('/g/:group/reports/names', { config: { access: 'keeper' } }, async (request, reply) => {
    const people = await request.read((tx) => namingsOf(tx, request.member.group.id))
    return reply.page('reports/names', { people }, { title: words().title })
  })

  app.post('/g/:group/reports/names', { config: { access: 'keeper' } }, async (request, reply) => {
    const { group, personId } = request.member
    const address = `/g/${group.slug}/reports/names`
    const form = readForm(namesForm, request.body)
    if (form.kind === 'refused') return reply.backTo(address)
    await request.write((tx) => saveNamings(tx, { groupId: group.id, createdBy: personId }, form.value.agreed))
    return reply.backTo(address, words().saved)
  })
}
