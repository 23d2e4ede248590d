/** What a command may touch of the world, so that it can be run without one. */
export interface Terminal {
	readonly out: (text: string) => void;
	readonly error: (text: string) => void;
	/** Whether standard error is a screen on which a line can be overwritten. */
	readonly isInteractive: boolean;
	/** Where relative paths start. */
	readonly directory: string;
	/** What a worker thread runs to be given floors; without it they are all routed in this thread. */
	readonly program?: URL;
}
