import type { IncomingMessage, Server } from 'node:http'
import type { Socket } from 'node:net'
import type { FastifyInstance } from 'fastify'
import { sent } from '../lookups/unsaid.ts'

const second = 1000
const minute = 60 * second

/** How long a sender may take, in ms. A body with a file has longer: 512 MB by a slow line. */
export interface TimeLimits {
  readonly head: number
  readonly body: number
  readonly bodyWithFile: number
  /** Without a byte in either direction. */
  readonly silence: number
}

export const timeLimits: TimeLimits = {
  head: 10 * second,
  body: 30 * second,
  bodyWithFile: 30 * minute,
  silence: 5 * minute,
}

/** What the server itself watches: the head, the whole of a request, silence. */
export const serverLimits = ({ head, bodyWithFile, silence }: TimeLimits) => ({
  requestTimeout: head + bodyWithFile,
  connectionTimeout: silence,
  http: { headersTimeout: head, connectionsCheckingInterval: Math.min(second, head) },
})

/** Ends a request whose body takes too long, however steadily it trickles in. */
export function limitBodies(app: FastifyInstance, { body, bodyWithFile }: TimeLimits): void {
  app.addHook('onRequest', (request, _reply, done) => {
    const { raw } = request
    if (raw.complete || ['GET', 'HEAD'].includes(sent(raw.method))) return done()
    const most = request.routeOptions.config.upload === undefined ? body : bodyWithFile
    // Where the process itself was held up, what came meanwhile is read first.
    const timer = setTimeout(() => setImmediate(() => raw.complete || raw.destroyed || breakOff(raw.socket)), most)
    for (const event of ['end', 'close'] as const) raw.once(event, () => clearTimeout(timer))
    done()
  })
}

function breakOff(socket: Socket): void {
  if (socket.writable) socket.write('HTTP/1.1 408 Request Timeout\r\nConnection: close\r\n\r\n')
  socket.destroySoon()
}

/**
 * Lets go of the connections that keep a server from closing: those that are silent or have sent half a request. What
 * was sent whole is answered. Returns how to do so, as often as wished.
 */
export function watchConnections(server: Server): () => void {
  const sockets = new Map<Socket, IncomingMessage | null>()
  server.on('connection', (socket: Socket) => {
    sockets.set(socket, null)
    socket.once('close', () => sockets.delete(socket))
  })
  server.prependListener('request', (request: IncomingMessage, response) => {
    const { socket } = request
    sockets.set(socket, request)
    response.once('close', () => sockets.get(socket) === request && sockets.set(socket, null))
  })
  return () => {
    for (const [socket, request] of sockets) if (!request?.complete) socket.destroy()
  }
}
