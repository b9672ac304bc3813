// What the page's own scripts unpack, without a page.
import { Streams, Unpacker } from '../page/unpack.js';
import { Unfolder } from '../page/unfold.js';

// unpacked returns what some bytes unpack to, given in pieces of a size.
export function unpacked(bytes, piece = 65_536) {
  const one = new Unpacker();
  for (let i = 0; i < bytes.length; i += piece) one.push(new Uint8Array(bytes.subarray(i, i + piece)));
  one.push(null);
  return Buffer.from(one.unpacked());
}

// unfolded returns the module that some bytes unpack and unfold to, given in pieces of a size.
export function unfolded(bytes, piece = 65_536) {
  const parts = [];
  const streams = new Streams(new Unfolder((part) => parts.push(part.slice())));
  for (let at = piece; at < bytes.length; at += piece) streams.push(new Uint8Array(bytes.subarray(0, at)), false);
  streams.push(new Uint8Array(bytes), true);
  return Buffer.concat(parts);
}
