import type { FastifyReply } from 'fastify'

/** What each answer has given that no other answer gives: the token of its forms, the ids of its new ones. */
const given = new WeakMap<FastifyReply, readonly string[]>()

export const givenBy = (reply: FastifyReply): readonly string[] => given.get(reply) ?? []

/** Notes that it stands in this answer alone. */
export function noteGiven(reply: FastifyReply, text: string): string {
  given.set(reply, [...givenBy(reply), text])
  return text
}
