// Shows the OpenAPI document as a list of calls. Text is set as text, never as markup.
const calls = document.getElementById('calls');
const state = document.getElementById('state');

function element(name, text, className) {
  const node = document.createElement(name);
  if (text) node.textContent = text;
  if (className) node.className = className;
  return node;
}

function resolve(doc, schema) {
  const name = schema?.$ref?.split('/').pop();
  return name ? { name, ...doc.components.schemas[name] } : (schema ?? {});
}

function describe(doc, schema, depth = 0) {
  const known = resolve(doc, schema);
  const type = Array.isArray(known.type) ? known.type.filter(t => t !== 'null').join(' or ') : known.type;
  if (known.enum) return known.enum.map(v => JSON.stringify(v)).join(' | ');
  if (type === 'array') return '[' + describe(doc, known.items, depth + 1) + ']';
  if (known.properties && depth < 3) {
    return '{ ' + Object.entries(known.properties).map(([key, value]) => key + ': ' + describe(doc, value, depth + 1)).join(', ') + ' }';
  }
  return type ?? known.name ?? 'any';
}

function show(doc, path, method, call) {
  const box = element('details', null, 'form-card');
  box.dataset.text = (method + ' ' + path + ' ' + (call.summary ?? '')).toLowerCase();
  const head = element('summary');
  head.append(element('strong', method.toUpperCase() + ' '), element('code', path), element('span', ' ' + (call.summary ?? '')));
  box.append(head);
  const parameters = (call.parameters ?? []).map(p => p.name + ' (' + p.in + (p.required ? ', needed' : '') + ')');
  if (parameters.length) box.append(element('p', 'Parameters: ' + parameters.join(', ')));
  for (const [type, body] of Object.entries(call.requestBody?.content ?? {})) {
    box.append(element('p', 'Body, ' + type + ':'), element('pre', describe(doc, body.schema), 'event-data'));
  }
  for (const [status, answer] of Object.entries(call.responses ?? {})) {
    const schema = Object.values(answer.content ?? {})[0]?.schema;
    box.append(element('p', status + ' ' + (answer.description ?? '')));
    if (schema) box.append(element('pre', describe(doc, schema), 'event-data'));
  }
  calls.append(box);
}

document.getElementById('filter').addEventListener('input', event => {
  const words = event.target.value.toLowerCase().split(/\s+/);
  for (const box of calls.children) box.hidden = !words.every(w => box.dataset.text.includes(w));
});

try {
  const doc = await (await fetch('/openapi/v1.json')).json();
  let count = 0;
  for (const [path, methods] of Object.entries(doc.paths)) {
    for (const [method, call] of Object.entries(methods)) {
      show(doc, path, method, call);
      count++;
    }
  }
  state.textContent = count + ' calls.';
} catch {
  state.textContent = 'The document could not be loaded. Load the page again.';
}
