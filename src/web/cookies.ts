/**
 * Under TLS by a name that browsers take from this host alone, for all its paths; over plain HTTP they would refuse it.
 */
const ofThisHost = (name: string, secure: boolean) => (secure ? `__Host-${name}` : name)

/** Holds who is signed in. */
export const sessionCookieOf = (secure: boolean): string => ofThisHost('evenground', secure)

/** Holds, for some minutes, who has given the password and still owes the code. */
export const stepCookieOf = (secure: boolean): string => ofThisHost('evenground-step', secure)

/** Holds the secret that the tokens of forms are made with. */
export const formCookieOf = (secure: boolean): string => ofThisHost('evenground-form', secure)

/**
 * Whose session it is, for the page of a week without a signal: what was typed on this device is shown to that person
 * alone. It opens nothing, and a script reads it.
 */
export const personCookie = 'evenground-person'
export const personCookieOptions = (secure: boolean) =>
  ({ path: '/', sameSite: 'lax', secure, maxAge: 60 * 86_400 }) as const

/** What was just saved, said once on the next page. */
export const noticeCookie = 'evenground-notice'
