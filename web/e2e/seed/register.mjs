// A register of invented farms for the browser tests, relative to the day of
// the test: every standing, farms without a position, both enterprises, both
// languages. Phone numbers come from a prefix that is not assigned.

const day = 86_400_000;

/** back is the date so many days before today, as a register writes it. */
export function back(days, today = new Date()) {
  return new Date(today.getTime() - days * day).toISOString().slice(0, 10);
}

const snailHouse = {
  enterprise: "snail",
  species: "Archachatina marginata",
  length: 20,
  width: 10,
  length_unit: "ft",
  capacity: 600,
  wall_base: "block",
  cover: "net",
  double_door: "yes",
  drain: "yes",
  water: "borehole",
};
const tank = {
  enterprise: "catfish",
  species: "Clarias gariepinus",
  length: 6,
  width: 4,
  length_unit: "m",
  capacity: 900,
  lined: "no",
  water: "pump",
  tank_litres: 24000,
  pump_hp: 1.5,
};

// Client, farm, place, unit, and how many days ago each thing was: the last
// two farms have no position, the third and the tenth no last visit.
const farms = [
  [
    "Njoh Family",
    "Sandpit Corner",
    ["Buea", "4.1527", "9.2410"],
    "House 1",
    snailHouse,
    { handed_over_on: 95, planted_on: 88, last_visit_on: 40, caretaker: "Eposi Njoh", trained_on: 60 },
  ],
  [
    "Mbella Farms",
    "Lower Ridge",
    ["Muea", "4.1660", "9.3050"],
    "House 1",
    snailHouse,
    { handed_over_on: 30, planted_on: 24, last_visit_on: 6, caretaker: "Ikome Mbella" },
  ],
  [
    "Tabi and Sons",
    "Three Palms",
    ["Limbe", "4.0242", "9.2149"],
    "Long house",
    snailHouse,
    { handed_over_on: 300, planted_on: 292, stocked_on: 236, stocked_count: 400, mean_weight_g: 34 },
  ],
  [
    "Ngassa Élevage",
    "Bassin du Quai",
    ["Douala", "4.0511", "9.7679"],
    "Tank A",
    tank,
    {
      handed_over_on: 150,
      started_on: 148,
      stocked_on: 112,
      stocked_count: 800,
      mean_weight_g: 9,
      last_visit_on: 20,
      caretaker: "Rose Ngassa",
      trained_on: 118,
      language: "fr",
    },
  ],
  [
    "Ngassa Élevage",
    "Bassin du Quai",
    ["Douala", "4.0511", "9.7679"],
    "Tank B",
    tank,
    { handed_over_on: 150, started_on: 60, language: "fr" },
  ],
  [
    "Awah Mary",
    "Hillside",
    ["Bamenda", "5.9631", "10.1591"],
    "House 1",
    snailHouse,
    {
      handed_over_on: 500,
      planted_on: 490,
      stocked_on: 440,
      stocked_count: 350,
      mean_weight_g: 36,
      first_harvest_on: 12,
      last_visit_on: 12,
      caretaker: "Che Awah",
      trained_on: 100,
    },
  ],
  [
    "Fonyuy Grace",
    "Old Coffee Store",
    ["Kumbo", "6.2050", "10.6850"],
    "House 1",
    snailHouse,
    { handed_over_on: 62, planted_on: 55, last_visit_on: 9, caretaker: "Fonyuy Paul", trained_on: 20 },
  ],
  [
    "Etonde Co-op",
    "Market Pond",
    ["Tiko", "4.0750", "9.3600"],
    "Tank 1",
    tank,
    {
      handed_over_on: 220,
      started_on: 210,
      stocked_on: 175,
      stocked_count: 1500,
      mean_weight_g: 8,
      last_visit_on: 70,
      caretaker: "Etonde Ruth",
      trained_on: 320,
    },
  ],
  [
    "Sona Peter",
    "Behind the Mill",
    ["Buea", "4.1600", "9.2300"],
    "House 1",
    snailHouse,
    { handed_over_on: 12, planted_on: 7, last_visit_on: 5, status: "active", caretaker: "Sona Joan" },
  ],
  [
    "Kamga Luc",
    "Kilomètre Huit",
    ["Loum", "", ""],
    "Escargotière",
    snailHouse,
    { handed_over_on: 130, planted_on: 120, caretaker: "Kamga Alice", language: "fr" },
  ],
  [
    "Ebai Martin",
    "River Side",
    ["Mamfe", "", ""],
    "House 1",
    snailHouse,
    { handed_over_on: 400, planted_on: 390, stocked_on: 340, stocked_count: 300, status: "paused" },
  ],
];

// The second file is imported without --watch: these farms wait to be confirmed.
const toConfirm = [
  [
    "Lobe Anna",
    "Red Gate",
    ["Limbe", "4.0300", "9.1950"],
    "House 1",
    snailHouse,
    { handed_over_on: 260, planted_on: 250, last_visit_on: 120, caretaker: "Lobe Anna" },
  ],
  [
    "Tchoumi Jean",
    "La Source",
    ["Bafoussam", "5.4778", "10.4176"],
    "Bac 1",
    tank,
    { started_on: 200, stocked_on: 160, stocked_count: 600, language: "fr" },
  ],
  [
    "Nkeng Blaise",
    "School Road",
    ["Buea", "", ""],
    "House 1",
    snailHouse,
    { handed_over_on: 20, planted_on: 15, last_visit_on: 4 },
  ],
];

const columns = [
  "client",
  "client_phone",
  "farm",
  "town",
  "latitude",
  "longitude",
  "branch",
  "unit",
  "enterprise",
  "species",
  "length",
  "width",
  "length_unit",
  "capacity",
  "build_standard",
  "wall_base",
  "cover",
  "double_door",
  "drain",
  "lined",
  "water",
  "tank_litres",
  "pump_hp",
  "handed_over_on",
  "planted_on",
  "started_on",
  "stocked_on",
  "stocked_count",
  "mean_weight_g",
  "first_harvest_on",
  "last_visit_on",
  "caretaker",
  "caretaker_phone",
  "trained_on",
  "language",
  "status",
];

const branchOf = {
  Buea: "Buea",
  Muea: "Buea",
  Limbe: "Buea",
  Tiko: "Buea",
  Mamfe: "Buea",
  Douala: "Douala",
  Loum: "Douala",
  Bafoussam: "Bamenda",
  Bamenda: "Bamenda",
  Kumbo: "Bamenda",
};

const clients = [...new Set([...farms, ...toConfirm].map(([client]) => client))];

function row([client, farm, [town, latitude, longitude], unit, build, facts], at, today) {
  const dated = Object.fromEntries(
    Object.entries(facts).map(([name, value]) => [name, name.endsWith("_on") ? back(value, today) : value]),
  );
  const phone = (n) => `+2375500${String(n).padStart(5, "0")}`;
  const cells = {
    client,
    client_phone: phone(1_000 + clients.indexOf(client)),
    farm,
    town,
    latitude,
    longitude,
    branch: branchOf[town],
    unit,
    build_standard: "revision 2",
    caretaker_phone: facts.caretaker ? phone(50_000 + 100 * clients.indexOf(client) + at) : "",
    ...build,
    ...dated,
  };
  return columns.map((name) => quoted(String(cells[name] ?? ""))).join(",");
}

function quoted(cell) {
  return /[",\n]/.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell;
}

function file(rows, today) {
  return `${[columns.join(","), ...rows.map((r, i) => row(r, i, today))].join("\n")}\n`;
}

/** registers are the two files of the firm: the farms that are watched, and those to confirm. */
export function registers(today = new Date()) {
  return { watched: file(farms, today), toConfirm: file(toConfirm, today) };
}
