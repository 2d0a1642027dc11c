// Speaking with the server: every change names the revision that it was made on.

import { state, take } from "./state.js";
import { say, offerConflict } from "./say.js";

export async function ask(path, body) {
  const options = body === undefined ? {} : {
    method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify(body),
  };
  let answer;
  try {
    answer = await fetch(`api/${path}`, { credentials: "omit", ...options });
  } catch {
    throw new Error("The server does not answer. Edits up to here are kept; start setdown review again.");
  }
  const data = await answer.json().catch(() => ({}));
  if (answer.ok) return data;
  const error = new Error(data.message || `The server answered ${answer.status}.`);
  error.status = answer.status;
  error.data = data;
  throw error;
}

// One after the other, so that a second edit is made on what the first one left.
let turn = Promise.resolve();

export function change(path, body = {}) {
  const mine = turn.then(() => send(path, body));
  turn = mine.catch(() => undefined);
  return mine;
}

async function send(path, body) {
  try {
    const answer = await ask(path, { ...body, revision: state.revision });
    take(answer);
    if (answer.message) say(answer.message);
    return answer;
  } catch (error) {
    if (error.status === 409) offerConflict(error.data, () => change(path, body));
    else say(error.message, true);
    throw error;
  }
}

export const edit = (wanted) => change("edit", { edit: wanted });
