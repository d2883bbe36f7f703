import { type AddressInfo, connect } from 'node:net'
import fastify from 'fastify'
import { expect, it } from 'vitest'
import { takeTurns } from '../../src/web/in-turn.ts'
import { keepQuotas, usualQuotas } from '../../src/web/quotas.ts'

it('whoever asks for a costly page and does not read it holds up nobody', async () => {
  const app = fastify()
  keepQuotas(app, { ...usualQuotas, costly: 1 })
  takeTurns(app, () => 'a group')
  const page = 'a'.repeat(20_000_000)
  let made = 0
  app.get('/costly', { config: { access: 'public', costly: true } }, (_request, reply) => {
    made += 1
    return reply.type('text/plain').send(page)
  })
  await app.listen({ host: '127.0.0.1', port: 0 })
  const { port } = app.server.address() as AddressInfo
  const deaf = connect(port, '127.0.0.1', () => deaf.write('GET /costly HTTP/1.1\r\nHost: here\r\n\r\n'))
  deaf.pause()
  try {
    while (made < 1) await new Promise((done) => setTimeout(done, 10))
    const answer = await fetch(`http://127.0.0.1:${port}/costly`)
    expect((await answer.text()).length).toBe(page.length)
    expect(made).toBe(2)
  } finally {
    deaf.destroy()
    await app.close()
  }
})
