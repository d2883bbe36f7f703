import { createServer, type Server } from 'node:http'
import type { FastifyInstance } from 'fastify'
import { AggregatorRegistry, Counter, collectDefaultMetrics, Gauge, Histogram, Registry } from 'prom-client'
import type { ReadFrom } from '../db/replica.ts'

/** Seconds within which an answer is counted. */
const within = [0.01, 0.025, 0.05, 0.1, 0.25, 0.5, 1, 2.5, 5, 10, 30]

interface Metrics {
  /** Before any route. */
  watch(app: FastifyInstance): void
  /** Where there is a replica: who answered what it may be asked. */
  countRead(from: ReadFrom): void
  serve(host: string, port: number): Promise<Server>
  /** To the process that began this one, which is asked in its place. */
  handUp(): object
}

/**
 * Counts what is answered, by route and never by address, so that no group and no link stands in a figure; and what the
 * process takes. `serve` answers Prometheus on a port of its own, which is not for the open internet.
 */
export function metricsKept(): Metrics {
  const register = new Registry()
  collectDefaultMetrics({ register })
  const answered = new Histogram({
    name: 'evenground_request_seconds',
    help: 'Seconds from the head of a request to the end of its answer',
    labelNames: ['method', 'route', 'status'] as const,
    buckets: within,
    registers: [register],
  })
  const reads = new Counter({
    name: 'evenground_reads_for_replica_total',
    help: 'Readings that a replica may answer, by who answered them',
    labelNames: ['from'] as const,
    registers: [register],
  })
  let open = 0
  new Gauge({
    name: 'evenground_requests_open',
    help: 'Requests that are not answered yet',
    registers: [register],
    collect() {
      this.set(open)
    },
  })
  return {
    watch: (app) => {
      app.addHook('onRequest', async ({ method, routeOptions }, reply) => {
        open += 1
        // Also where whoever asked has gone before the answer.
        reply.raw.once('close', () => {
          open -= 1
          const labels = { method, route: routeOptions.url ?? 'none', status: String(reply.statusCode) }
          answered.observe(labels, reply.elapsedTime / 1000)
        })
      })
    },
    countRead: (from) => reads.inc({ from }),
    serve: (host, port) => served({ host, port }, register.contentType, () => register.metrics()),
    handUp: () => {
      AggregatorRegistry.setRegistries(register)
      return new AggregatorRegistry()
    },
  }
}

/** On one port what all processes of this one have handed up, summed over those that answer. */
export function metricsOfAll(host: string, port: number): Promise<Server> {
  const register = new AggregatorRegistry()
  return served({ host, port }, register.contentType, () => register.clusterMetrics())
}

function served(at: { host: string; port: number }, type: string, text: () => Promise<string>): Promise<Server> {
  const server = createServer((request, response) => {
    if (request.method !== 'GET' || request.url !== '/metrics') return response.writeHead(404).end()
    text().then(
      (said) => response.writeHead(200, { 'content-type': type }).end(said),
      () => response.writeHead(500).end(),
    )
  })
  return new Promise((resolve, reject) => {
    server.once('error', reject)
    server.listen(at.port, at.host, () => resolve(server))
  })
}
