import type { FastifyInstance } from 'fastify'

const megabyte = 1_000_000

/** What one group, and all of them together, may take of what there is. */
export interface Quotas {
  /** Bytes of pictures that are kept, of a group and of all. */
  readonly picturesOfGroup: number
  readonly picturesOfAll: number
  /** Bytes of files on their way in, at one moment. */
  readonly temporary: number
  /** Files on their way in from one person, at one moment. */
  readonly filesOfPerson: number
  /** Links to reports of a group that lead somewhere at one moment. */
  readonly linksOfGroup: number
  /** Costly pages that are made at one moment, and those of one group that may wait for their turn. */
  readonly costly: number
  readonly waiting: number
}

export const usualQuotas: Quotas = {
  picturesOfGroup: 500 * megabyte,
  picturesOfAll: 5000 * megabyte,
  temporary: 1600 * megabyte,
  filesOfPerson: 3,
  linksOfGroup: 200,
  costly: 2,
  waiting: 40,
}

declare module 'fastify' {
  interface FastifyInstance {
    quotas: Quotas
  }
}

export function keepQuotas(app: FastifyInstance, quotas: Quotas): void {
  app.decorate('quotas', quotas)
}
