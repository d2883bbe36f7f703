export const question = {
  asked: (text: string, day: string) => `Gefragt, und festgelegt am ${day}: ${text}`,
  notYet: (seen: number, all: number) =>
    `Die Gruppe wartet auf Saisonen mit Intervall, ${all} im Ganzen; bisher sind es ${seen}, also steht ihre Antwort noch nicht da.`,
  answer: (sentence: string) => `Die Antwort, die vorher aufgeschrieben wurde: ${sentence}`,
}
