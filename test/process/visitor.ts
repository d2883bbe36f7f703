/** A browser of few lines: one person, their cookies and the token of their forms. */
export class Visitor {
  private readonly cookies = new Map<string, string>()
  private token = ''
  readonly base: string
  constructor(base: string) {
    this.base = base
  }

  /** 0 where the connection broke off. */
  async get(address: string): Promise<{ status: number; text: string; headers: Headers }> {
    return this.send(address, {})
  }

  async post(address: string, fields: Record<string, string>) {
    const body = new URLSearchParams({ _csrf: this.token, ...fields })
    return this.send(address, { method: 'POST', body, headers: { origin: this.base } })
  }

  async signUp(email: string): Promise<number> {
    await this.get('/sign-up')
    const { status } = await this.post('/sign-up', { name: 'Ada Rook', email, password: 'long enough to keep' })
    await this.get('/groups/new')
    return status
  }

  private async send(address: string, asked: RequestInit & { headers?: Record<string, string> }) {
    const cookie = [...this.cookies].map(([name, value]) => `${name}=${value}`).join('; ')
    try {
      const headers = { ...asked.headers, cookie }
      const answer = await fetch(`${this.base}${address}`, { ...asked, headers, redirect: 'manual' })
      for (const line of answer.headers.getSetCookie()) {
        const [name = '', value = ''] = (line.split(';')[0] ?? '').split(/=(.*)/s)
        this.cookies.set(name, value)
      }
      const text = await answer.text()
      this.token = /name="_csrf" value="([^"]+)"/.exec(text)?.[1] ?? this.token
      return { status: answer.status, text, headers: answer.headers }
    } catch {
      return { status: 0, text: '', headers: new Headers() }
    }
  }
}
