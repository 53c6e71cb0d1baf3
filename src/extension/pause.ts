/** Lets in what the editor has to say meanwhile: keystrokes, and that an answer is not wanted any more. */
export const pause = (): Promise<void> => new Promise((resolve) => setTimeout(resolve));

/** ms of work after which to pause. */
export const LONG_ENOUGH = 8;
