export const question = {
  asked: (text: string, day: string) => `Gefragt, und festgelegt am ${day}: ${text}`,
  askedLate: (text: string, day: string) =>
    `Spät gefragt, und festgelegt am ${day}, als eine hier betrachtete Saison schon begonnen hatte: ${text} Was ` +
    'sich dabei zeigt, ist ein Umsehen und keine Prüfung; darum steht keiner ihrer beiden Sätze als Antwort da.',
  notYet: (seen: number, all: number) =>
    `Die Gruppe wartet auf Saisonen mit Intervall, ${all} im Ganzen; bisher sind es ${seen}, also steht ihre ` +
    'Antwort noch nicht da.',
  elsewhere: (method: string, reference: string) =>
    `Die Frage gilt auch ${method} neben ${reference}: Das steht dort, wo mit ${reference} verglichen wird.`,
  answer: (sentence: string) => `Die Antwort, die vorher aufgeschrieben wurde: ${sentence}`,
}
