/** Documents give directions in degrees, anticlockwise from +x; routing reckons in radians. */
export const radians = (degrees: number): number => (degrees * Math.PI) / 180;

export const degrees = (radians: number): number => (radians * 180) / Math.PI;
