import about from '../package.json' with { type: 'json' };

/** Answers and acts name the program that gave them. */
export const VERSION: string = about.version;
