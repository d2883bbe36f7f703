import { createTransport } from 'nodemailer'
import { codeOf } from '../db/constraint.ts'

export interface Letter {
  readonly to: string
  readonly subject: string
  readonly text: string
}

interface Post {
  /** Returns at once: whoever asks does not wait for a mail server, and what goes wrong is told. */
  send(letter: Letter): void
  /** When all that was sent so far has gone or failed. */
  sent(): Promise<void>
}

const msToWait = 20_000

/**
 * Mail by SMTP, plain text alone. No file and no address is read on behalf of a letter; of trouble only its code is
 * told, since a mail server's own words name whom the letter was for.
 */
export function postBy(smtp: string, from: string, tell: (code: string) => void): Post {
  const times = { connectionTimeout: msToWait, greetingTimeout: msToWait, socketTimeout: msToWait }
  const transport = createTransport({ url: smtp, ...times, disableFileAccess: true, disableUrlAccess: true })
  const going = new Set<Promise<void>>()
  return {
    send: (letter) => {
      const gone = transport.sendMail({ from, ...letter }).then(
        () => undefined,
        (error: unknown) => tell(codeOf(error) || 'unknown'),
      )
      going.add(gone)
      void gone.then(() => going.delete(gone))
    },
    sent: async () => {
      await Promise.all(going)
    },
  }
}
