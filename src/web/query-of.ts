import type { FastifyRequest } from 'fastify'

/** What the address asks after its "?": whatever a stranger wrote there, by name. */
export const queryOf = (request: Pick<FastifyRequest, 'query'>) => request.query as Readonly<Record<string, unknown>>
