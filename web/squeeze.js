// Takes apart the one file that the tool comes in, and puts back what the build
// has left out of the program so that it is shorter on the way. The grammar
// stands in build/website/squeeze.go.
"use strict";

// The kinds of parts.
const PLAIN = 0, FUNCTIONS = 1, PAGES = 2, SHORT_PAGES = 3, TABLE = 4, BUCKETS = 5, POWERS = 6;

// unsqueezer takes in the file as it comes and gives what is in it: pieces of the
// program, whose kind is PLAIN, and then pieces of the pages.
function unsqueezer(give) {
  let held = [], have = 0, need = 1; // what came in and has to wait for more
  let mark = 4; // what is left of the mark at the beginning
  let kind = PLAIN, left = 0; // of a part that is given as it comes
  const restorers = {
    [FUNCTIONS]: functionsRestorer(),
    [TABLE]: restoredTable,
    [BUCKETS]: restoredBuckets,
    [POWERS]: restoredPowers,
  };
  return {
    take(piece) {
      held.push(piece);
      have += piece.length;
      if (have < need) return;
      const all = joined(held);
      let at = 0;
      need = 1;
      while (at < all.length) {
        if (mark > 0) {
          if (all[at++] !== "1qs\0".charCodeAt(--mark)) throw new Error("the tool is not in its file");
          continue;
        }
        if (left > 0) {
          const end = Math.min(at + left, all.length);
          give(kind, all.subarray(at, end));
          left -= end - at;
          at = end;
          continue;
        }
        let begin = at + 1, length = 0, whole = false;
        for (let unit = 1; begin < all.length && !whole; unit *= 128) {
          const b = all[begin++];
          length += (b & 127) * unit;
          whole = b < 128;
        }
        if (!whole) {
          need = all.length - at + 1;
          break;
        }
        kind = all[at];
        const restored = restorers[kind];
        if (!restored) {
          at = begin;
          left = length;
          continue;
        }
        if (begin + length > all.length) {
          need = begin + length - at;
          break;
        }
        at = begin + length;
        give(PLAIN, restored(all.subarray(begin, at)));
      }
      held = at < all.length ? [all.subarray(at)] : [];
      have = all.length - at;
    },

    end() {
      if (have > 0 || left > 0 || mark > 0) throw new Error("the tool's file is cut short");
    },
  };
}

function joined(pieces) {
  if (pieces.length === 1) return pieces[0];
  let length = 0;
  for (const p of pieces) length += p.length;
  const all = new Uint8Array(length);
  length = 0;
  for (const p of pieces) {
    all.set(p, length);
    length += p.length;
  }
  return all;
}

// numbers reads the numbers of a part, which are LEB128.
function numbers(part) {
  let read = 0;
  return () => {
    let n = 0;
    for (let unit = 1; ; unit *= 128) {
      const b = part[read++];
      n += (b & 127) * unit;
      if (!(b >= 128)) return n; // also past the end
    }
  };
}

// restoredTable gives the table of functions, of which the part has the columns,
// each number as its distance from the one above.
function restoredTable(part) {
  const FIXED = 11, COUNT = 7; // words of every record; which of them counts the values
  const number = numbers(part);
  const count = number(), after = number();
  const column = (has) => {
    const words = new Int32Array(count);
    let above = 0;
    for (let i = 0; i < count; i++) {
      if (!has(i)) continue;
      const n = number();
      words[i] = above = above + (n % 2 ? -(n + 1) / 2 : n / 2) | 0;
    }
    return words;
  };
  const fixed = [];
  for (let i = 0; i < FIXED; i++) fixed.push(column(() => true));
  const more = [(i) => fixed[COUNT][i], (i) => fixed[FIXED - 1][i] >>> 24].map((count) => {
    const columns = [];
    const most = fixed[0].reduce((most, _, i) => Math.max(most, count(i)), 0);
    while (columns.length < most) columns.push(column((i) => count(i) > columns.length));
    return { count, columns };
  });

  let size = 8 * count + 8;
  for (let i = 0; i < count; i++) {
    size = Math.ceil(size / 8) * 8 + 4 * (FIXED + more[0].count(i) + more[1].count(i));
  }
  const out = new DataView(new ArrayBuffer(size));
  out.setUint32(8 * count, after, true);
  let end = 8 * count + 8;
  for (let i = 0; i < count; i++) {
    end = Math.ceil(end / 8) * 8;
    out.setInt32(8 * i, fixed[0][i], true);
    out.setUint32(8 * i + 4, end, true);
    const put = (columns, n) => {
      for (let c = 0; c < n; c++, end += 4) out.setInt32(end, columns[c][i], true);
    };
    put(fixed, FIXED);
    for (const { count, columns } of more) put(columns, count(i));
  }
  return new Uint8Array(out.buffer);
}

// restoredBuckets gives the buckets of that table's search: sixteen for each
// function.
function restoredBuckets(part) {
  const number = numbers(part);
  const first = number(), count = number();
  const out = new DataView(new ArrayBuffer(20 * count));
  for (let i = 0; i < count; i++) out.setUint32(20 * i, first + i >> 4, true);
  return new Uint8Array(out.buffer);
}

// restoredPowers gives the powers of ten to 128 binary digits, in two words, the
// higher first.
function restoredPowers(part) {
  const number = numbers(part);
  const least = -number(), count = number();
  const out = new DataView(new ArrayBuffer(16 * count));
  for (let i = 0; i < count; i++) {
    const exponent = least + i;
    let digits = 10n ** BigInt(Math.abs(exponent));
    const length = digits.toString(2).length;
    if (exponent < 0) digits = (1n << BigInt(127 + length)) / digits;
    else digits = length > 128 ? digits >> BigInt(length - 128) : digits << BigInt(128 - length);
    out.setBigUint64(16 * i, digits >> 64n, true);
    out.setBigUint64(16 * i + 8, digits, true); // takes the lower word
  }
  return new Uint8Array(out.buffer);
}

// functionsRestorer gives what restores a part of functions.
function functionsRestorer() {
  const STACK_LESS = [0x6b, 0x22, 1, 0x24, 0];
  const PUSH_PC = [0x20, 1, 0x41, 8, 0x6b, 0x22, 1, 0x24, 0, 0x20, 1, 0x42];
  const THEN_CALL = [0x37, 3, 0, 0x41, 0, 0x10];
  const TAKE_STACK = [0x23, 0, 0x21, 1];
  const LEAVE = [0x6a, 0x22, 1, 0x24, 0, 0x20, 1, 0x41, 8, 0x6a, 0x22, 1, 0x24, 0, 0x41, 0, 0x0f];
  const STACK_LEFT = [0x20, 1, 0x23, 2, 0xa7, 0x28, 2, 0x10, 0x4d, 0x04, 0x40];
  const ON_STACK = [0x20, 1, 0xad, 0x42];
  const FROM_STACK = [0x20, 1, 0x29, 3];
  const TAIL = [0x0b, 0x00, 0x0b, 0x41, 1, 0x0b];
  const ALIGNMENT = [2, 3, 2, 3, 0, 0, 1, 1, 0, 0, 1, 1, 2, 2, 2, 3, 2, 3, 0, 1, 0, 1, 2];
  const FIRST_FUNCTION = 0x1000;

  let code, read; // what is read
  let apart; // reads the numbers that stand aside
  let out = new Uint8Array(1 << 20), end = 0; // what is written
  let index; // of the function
  let depth, base, part, starts, frame; // as type flow in squeeze.go

  const room = (n) => {
    if (end + n <= out.length) return;
    const larger = new Uint8Array(2 * (end + n));
    larger.set(out);
    out = larger;
  };
  const put = (bytes) => {
    for (let i = 0; i < bytes.length; i++) out[end++] = bytes[i];
  };
  const unsigned = (n) => {
    for (; n >= 128; n = Math.floor(n / 128)) out[end++] = n % 128 + 128;
    out[end++] = n;
  };
  const signed = (n) => { // of what is not negative
    for (; n >= 64; n = Math.floor(n / 128)) out[end++] = n % 128 + 128;
    out[end++] = n;
  };
  const number = () => {
    let n = 0;
    for (let unit = 1; ; unit *= 128) {
      const b = code[read++];
      n += (b & 127) * unit;
      if (!(b >= 128)) return n; // also past the end
    }
  };
  const withSign = (n) => n % 2 ? -(n + 1) / 2 : n / 2;
  const copyNumber = () => {
    let b;
    do out[end++] = b = code[read++]; while (b >= 128);
  };
  const finish = () => {
    depth--;
    if (depth < base) {
      base = depth;
      part++;
    }
  };
  const pc = (op) => {
    let n = 0;
    if (op === 0x1d) n = starts[part + 1] - 1;
    else if (op === 0x1f) n = starts[Math.min(part, starts.length - 1)] + withSign(number());
    signed((index + FIRST_FUNCTION) * 65536 + n);
  };
  const jump = (depth) => {
    out[end++] = 0x41;
    signed(starts[part + withSign(apart())]);
    out[end++] = 0x21;
    out[end++] = 0;
    out[end++] = 0x0c;
    unsigned(depth - 1);
  };
  const call = (op) => {
    put(PUSH_PC);
    pc(op);
    put(THEN_CALL);
    const low = code[read++];
    signed(low + 256 * code[read++]);
    put(TAKE_STACK);
    out[end++] = 0x0d;
    unsigned(depth - 1);
  };
  const table = () => {
    let blocks = number();
    const last = number();
    starts = [];
    let n = 0;
    const counts = [];
    for (let p = 0; p <= last; p++) {
      starts.push(n);
      counts.push(apart());
      n += counts[p];
    }
    blocks += starts.length;
    room(2 * blocks + 5 * n + 64);
    for (let b = 0; b < blocks; b++) {
      out[end++] = 0x02;
      out[end++] = 0x40;
    }
    out[end++] = 0x20;
    out[end++] = 0;
    out[end++] = 0x0e;
    unsigned(n - 1);
    for (let p = 0; p <= last; p++) {
      for (let i = counts[p]; i > 0; i--) unsigned(p);
    }
    depth += blocks;
    base = depth;
  };

  const restore = () => {
    depth = part = 0;
    base = frame = -1;
    starts = [0];
    let groups = code[read];
    copyNumber();
    for (; groups > 0; groups--) {
      copyNumber();
      out[end++] = code[read++];
    }
    while (depth >= 0) {
      if (read >= code.length) throw new Error("a function is cut short");
      room(64);
      const op = code[read++];
      if (op >= 0xc5 && op < 0xf5) { // of a local, most often
        out[end++] = 0x20 + (op - 0xc5 >> 4);
        out[end++] = op - 0xc5 & 15;
        continue;
      }
      if (op >= 0x28 && op <= 0x3e) {
        out[end++] = op;
        out[end++] = ALIGNMENT[op - 0x28];
        copyNumber();
        continue;
      }
      switch (op) {
        case 0x02: case 0x03: case 0x04:
          depth++;
          out[end++] = op;
          out[end++] = code[read++];
          break;
        case 0x0b:
          finish();
          out[end++] = op;
          break;
        case 0x0c: case 0x0d:
          out[end++] = op;
          unsigned(depth - number());
          break;
        case 0x0e: {
          out[end++] = op;
          let n = number();
          room(5 * n + 64);
          unsigned(n);
          for (; n >= 0; n--) copyNumber();
          break;
        }
        case 0x11:
          out[end++] = op;
          copyNumber();
          copyNumber();
          break;
        case 0x10: case 0x20: case 0x21: case 0x22: case 0x23: case 0x24: case 0x41: case 0x42:
          out[end++] = op;
          copyNumber();
          break;
        case 0x3f: case 0x40:
          out[end++] = op;
          out[end++] = code[read++];
          break;
        case 0x43: case 0x44:
          out[end++] = op;
          for (let n = op === 0x43 ? 4 : 8; n > 0; n--) out[end++] = code[read++];
          break;
        case 0xfc: {
          out[end++] = op;
          const kind = code[read];
          copyNumber();
          for (let n = kind === 10 ? 2 : kind === 11 ? 1 : 0; n > 0; n--) out[end++] = code[read++];
          break;
        }
        case 0x06:
          table();
          break;
        case 0x07:
          depth++;
          put(STACK_LEFT);
          break;
        case 0x08:
          call(0x1d);
          finish();
          out[end++] = 0x0b;
          break;
        case 0x09:
          call(code[read++]);
          break;
        case 0x0a:
          put(ON_STACK);
          copyNumber();
          out[end++] = 0x7c;
          out[end++] = 0xa7;
          break;
        case 0x12: case 0x13: case 0x14: case 0x15:
          out[end++] = 0x0c + (op - 0x12 >> 1);
          unsigned(depth - 1 - (op - 0x12 & 1));
          break;
        case 0x16:
          put(FROM_STACK);
          copyNumber();
          break;
        case 0x17:
          out[end++] = 0x04;
          out[end++] = 0x40;
          jump(depth);
          out[end++] = 0x0b;
          break;
        case 0x18:
          jump(depth - 1);
          break;
        case 0x19: case 0x1c:
          if (op === 0x19) frame = 8 * number();
          out[end++] = 0x20;
          out[end++] = 1;
          out[end++] = 0x41;
          signed(frame);
          put(op === 0x19 ? STACK_LESS : LEAVE);
          break;
        case 0x1d: case 0x1e: case 0x1f:
          out[end++] = 0x42;
          pc(op);
          break;
        case 0x25:
          put(TAKE_STACK);
          break;
        case 0x26:
          put(TAIL);
          return;
        default:
          out[end++] = op;
      }
    }
  };

  return (bytes) => {
    code = bytes;
    read = end = 0;
    index = number();
    const until = index + number();
    const length = number();
    apart = numbers(code.subarray(read, read + length));
    read += length;
    for (; index < until; index++) {
      room(64);
      const head = end;
      end += 2; // most lengths take two bytes
      restore();
      const size = end - head - 2;
      const wide = size < 128 ? 1 : size < 16384 ? 2 : size < 2097152 ? 3 : size < 268435456 ? 4 : 5;
      room(8);
      if (wide !== 2) out.copyWithin(head + wide, head + 2, end);
      end = head;
      unsigned(size);
      end += size;
    }
    return out.slice(0, end);
  };
}
