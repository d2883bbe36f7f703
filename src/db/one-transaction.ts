import type pg from 'pg'

type Asked = readonly [string | { readonly text: string }, ...unknown[]]

/**
 * A connection as one transaction asks it. Behind its commit or rollback a statement would be none of its role's, or of
 * whoever has the connection next: it is refused. Where statements do not go out together each waits for the one
 * before: the driver itself will not keep them waiting for much longer.
 */
export class OneTransaction {
  readonly client: pg.PoolClient
  private readonly own: pg.PoolClient
  private readonly together: boolean
  private isOver = false
  private before: Promise<unknown> = Promise.resolve()

  constructor(own: pg.PoolClient, { together }: { readonly together: boolean }) {
    this.own = own
    this.together = together
    this.client = new Proxy(own, {
      get: (_own, name) => {
        if (name === 'query') return (...asked: Asked) => this.ask(asked)
        const value: unknown = Reflect.get(own, name, own)
        return typeof value === 'function' ? value.bind(own) : value
      },
    })
  }

  /** Takes back what it did, behind whatever is still under way. */
  takeBack(): Promise<unknown> {
    this.isOver = true
    return this.inTurn(['rollback'])
  }

  private ask(asked: Asked): Promise<unknown> {
    if (this.isOver) throw new Error('A transaction that is over was asked again.')
    const [first] = asked
    this.isOver = (typeof first === 'string' ? first : first.text) === 'commit'
    return this.inTurn(asked)
  }

  private inTurn(asked: Asked): Promise<unknown> {
    const send = (): Promise<unknown> => Reflect.apply(this.own.query, this.own, asked)
    if (this.together) return send()
    const answer = this.before.then(send)
    this.before = answer.catch(() => undefined)
    return answer
  }
}
