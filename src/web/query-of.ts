import type { FastifyRequest } from 'fastify'
import { sent } from '../lookups/unsaid.ts'

type Sent = Readonly<Record<string, unknown>>

/** What was sent, by name; nothing where it is no list of fields. */
export const fieldsOf = (sent: unknown): Sent => (isFields(sent) ? sent : {})

const isFields = (sent: unknown): sent is Sent => typeof sent === 'object' && sent !== null

/** What the address asks after its "?": whatever a stranger wrote there, by name. */
export const queryOf = (request: { readonly query: unknown }): Sent => fieldsOf(request.query)

/** One text of an address: of "?season=a&season=b" there is none. */
export function textAsked(request: { readonly query: unknown }, name: string): string | undefined {
  const asked = queryOf(request)[name]
  return typeof asked === 'string' ? asked : undefined
}

/** One text of what was sent in a form, where it was sent. */
export function textSent(body: unknown, name: string): string {
  const sent = fieldsOf(body)[name]
  return typeof sent === 'string' ? sent : ''
}

/** A part of the address that the route names, ":season". */
export const addressPart = (request: Pick<FastifyRequest, 'params'>, name: string): string =>
  sent(fieldsOf(request.params)[name])
