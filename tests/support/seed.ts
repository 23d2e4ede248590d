import fc from "fast-check";

/*
 * Properties draw the same cases on every run, so that a build passes or fails for its changes alone. Set FC_SEED to
 * another number to look farther; keep what it finds as an example.
 */
fc.configureGlobal({ ...fc.readConfigureGlobal(), seed: Number(process.env["FC_SEED"] ?? 1) });
