// The module does not send again what stays. A reply to a form that has one already leaves out what is the same in both; in the trees of
// the answer, 0 stands for what is as it was in that place. Its number says which reply it is: asked with another one, or with 0, the
// module sends everything.

// completed returns a reply with what it leaves out, taken from the reply before it. Trees that stay are the same objects.
export function completed(reply, before) {
  const all = { ...before, ...reply };
  all.head = filled(all.head, before?.head);
  all.body = all.body?.map((tree, i) => filled(tree, before?.body[i]));
  return all;
}

function filled(tree, was) {
  if (tree === 0) return was;
  if (tree === was || typeof tree === 'string') return tree;
  for (let i = 2; i < tree.length; i++) tree[i] = filled(tree[i], was?.[i]);
  return tree;
}
