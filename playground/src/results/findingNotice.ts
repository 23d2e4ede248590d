import type { AuditFinding, Notice } from "oxturn";

/** What the audit found, as the notice that routing would give of it: it is then worded like all others. */
export const findingNotice = ({ rule, message, subjects, at, value, limit }: AuditFinding): Notice => ({
	code: "RULE_BROKEN",
	subject: subjects[0] ?? "",
	message,
	details: {
		rule,
		finding: message,
		subjects: subjects.join(", "),
		...(at && { x: at[0], y: at[1] }),
		...(value !== undefined && { value }),
		...(limit !== undefined && { limit }),
	},
});
