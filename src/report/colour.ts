import kleur from 'kleur';

/** Ink for the sheet. Colour never carries meaning alone: every coloured word says the same without it. */
export interface Ink {
  readonly strong: (text: string) => string;
  readonly faint: (text: string) => string;
  readonly good: (text: string) => string;
  readonly care: (text: string) => string;
  readonly bad: (text: string) => string;
  readonly unseen: (text: string) => string;
}

const plain = (text: string): string => text;

/** Ink that leaves text as it is: for files, pipes and NO_COLOR. */
export const PLAIN_INK: Ink = {
  strong: plain,
  faint: plain,
  good: plain,
  care: plain,
  bad: plain,
  unseen: plain,
};

/** Ink for a terminal. */
export function terminalInk(): Ink {
  kleur.enabled = true;
  return {
    strong: (text) => kleur.bold(text),
    faint: (text) => kleur.dim(text),
    good: (text) => kleur.bold().green(text),
    care: (text) => kleur.bold().yellow(text),
    bad: (text) => kleur.bold().red(text),
    unseen: (text) => kleur.bold().magenta(text),
  };
}
