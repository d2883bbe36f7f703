import type { FastifyInstance } from 'fastify'

/** The least a person must be to open a route; every route says so, or the service does not start. */
export type Access = 'public' | 'person' | 'reader' | 'recorder' | 'keeper'

declare module 'fastify' {
  interface FastifyContextConfig {
    access?: Access
    /** Answers everyone alike: whose session it is is not even looked up. */
    forNobody?: boolean
  }
  interface FastifyInstance {
    /** Every route with who may open it, for those who check the list. */
    declaredRoutes: DeclaredRoute[]
  }
}

interface DeclaredRoute {
  readonly route: string
  readonly access: Access
}

export function requireAccessDeclared(app: FastifyInstance): void {
  app.decorate('declaredRoutes', [])
  app.addHook('onRoute', (route) => {
    const access = route.config?.access
    if (!access) throw new Error(`The route ${route.method} ${route.url} does not say who may open it.`)
    const ofGroup = route.url.startsWith('/g/')
    if (ofGroup !== ['reader', 'recorder', 'keeper'].includes(access)) {
      throw new Error(`The route ${route.method} ${route.url} and its access "${access}" do not go together.`)
    }
    // Whatever is read can be asked for its head alone (RFC 9110, 9.3.2): it is the same route.
    if (route.method === 'HEAD') return
    app.declaredRoutes.push({ route: `${[route.method].flat().join('|')} ${route.url}`, access })
  })
}
