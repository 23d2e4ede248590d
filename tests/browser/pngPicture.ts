import { deflateSync } from "node:zlib";

/** CRC-32 of every byte value (PNG, third edition, annex D). */
const crcTable = Array.from({ length: 256 }, (_, value) => {
	let crc = value;
	for (let bit = 0; bit < 8; bit += 1) crc = crc & 1 ? 0xedb88320 ^ (crc >>> 1) : crc >>> 1;
	return crc >>> 0;
});

const crcOf = (bytes: Buffer): number =>
	(bytes.reduce((crc, byte) => (crcTable[(crc ^ byte) & 0xff]! ^ (crc >>> 8)) >>> 0, 0xffffffff) ^ 0xffffffff) >>> 0;

function chunk(name: string, data: Buffer): Buffer {
	const body = Buffer.concat([Buffer.from(name, "latin1"), data]);
	const frame = Buffer.alloc(8);
	frame.writeUInt32BE(data.length, 0);
	frame.writeUInt32BE(crcOf(body), 4);
	return Buffer.concat([frame.subarray(0, 4), body, frame.subarray(4)]);
}

/** A PNG of `side` by `side` pixels in colour (PNG, third edition: signature, IHDR, IDAT, IEND); `tint` gives its bytes. */
export function pngPicture(side: number, tint: (byte: number) => number = () => 128): Buffer {
	const header = Buffer.alloc(13);
	header.writeUInt32BE(side, 0);
	header.writeUInt32BE(side, 4);
	header.set([8, 2, 0, 0, 0], 8);
	const row = 3 * side + 1;
	// the first byte of each row says that it is not filtered
	const rows = Buffer.from(Uint8Array.from({ length: side * row }, (_, at) => (at % row === 0 ? 0 : tint(at))));
	return Buffer.concat([
		Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]),
		chunk("IHDR", header),
		chunk("IDAT", deflateSync(rows, { level: 1 })),
		chunk("IEND", Buffer.alloc(0)),
	]);
}

/** Bytes that no picture format makes smaller: a linear congruential generator (Numerical Recipes, from memory). */
export function noise(): (byte: number) => number {
	let state = 1;
	return () => {
		state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
		return state >>> 24;
	};
}
