/** Under TLS by a name that browsers take from this host alone, for all its paths; over plain HTTP they would refuse it. */
const ofThisHost = (name: string, secure: boolean) => (secure ? `__Host-${name}` : name)

/** Holds who is signed in. */
export const sessionCookieOf = (secure: boolean): string => ofThisHost('evenground', secure)

/** Holds the secret that the tokens of forms are made with. */
export const formCookieOf = (secure: boolean): string => ofThisHost('evenground-form', secure)
