import { formatsOf } from "../i18n/format";
import type { MediaMessages } from "./en";

const { number, plural } = formatsOf("fr");

const mb = (bytes: number) => `${number(Math.max(0.1, bytes / 1_000_000), 1)} Mo`;

const fr: MediaMessages = {
  of: (kind, what) => `${kind} : ${what}`,
  photo: "Photo",
  voice: "Note vocale",
  take: "Prendre une photo",
  another: "Une autre photo",
  cost: "Utilise environ 0,1 Mo, une fois.",
  wait: "La photo est réduite …",
  shows: "Avec une photo, personne n’a besoin de venir voir.",
  noCamera: "Mon appareil photo ne marche pas",
  looked: "J’ai regardé moi-même : cela compte comme votre parole.",
  tryCamera: "Essayer encore l’appareil photo",
  unreadable: "Ce téléphone ne peut pas ouvrir l’image. Prenez-en une autre avec son appareil photo.",
  remove: "Enlever la photo",
  removeVoice: "Enlever la note vocale",
  place: "Dire où elle a été prise",
  placeHint: "La photo connaît son lieu. Il reste sur ce téléphone, sauf si vous êtes d’accord.",
  record: "Parler au lieu d’écrire",
  stop: (left: number) =>
    `Arrêter (${plural(left, { one: `encore ${number(left)} seconde`, other: `encore ${number(left)} secondes` })})`,
  play: "Écouter avant l’envoi",
  noMicrophone: "Le micro ne peut pas être utilisé. Permettez-le dans les réglages du téléphone, ou écrivez.",
  ask: "Les photos et les notes vocales coûtent des données. Par quel réseau peuvent-elles partir ?",
  any: "Tout réseau",
  wifi: "Wi-Fi seulement",
  network: "Les photos et notes vocales partent par",
  onWifi: "Je suis en Wi-Fi : envoyer",
  title: "Photos et notes vocales",
  held: {
    words: "Elles partent après vos saisies.",
    no: "Elles attendent le Wi-Fi.",
    ask: "Elles attendent le Wi-Fi. Ce téléphone ne nous dit pas s’il est en Wi-Fi.",
    chosen: "Choisissez ci-dessous par quel réseau elles peuvent partir.",
  },
  waits: (n: number, bytes: number) =>
    `${plural(n, { one: `${number(n)} attend`, other: `${number(n)} attendent` })} sur ce téléphone : environ ${mb(bytes)}, une fois.`,
  used: (bytes: number) =>
    bytes > 0 ? `Utilisé ce mois-ci : ${mb(bytes)}.` : "Rien n’a été utilisé ce mois-ci.",
  state: {
    kept: "sur ce téléphone",
    sending: (share: number) => `envoi, ${number(share)} %`,
    sent: "envoyée",
    "needs-you": "a besoin de vous",
  },
  again: "Envoyer encore",
  discard: "Jeter",
  why: {
    "media-type": "Ce n’est pas une photo ou une note vocale que nous pouvons ouvrir.",
    "media-unreadable": "Elle est abîmée. Refaites-la.",
    "media-pixels": "Elle est trop grande. Refaites-la.",
    "media-too-large": "Elle est trop grande. Refaites-la.",
    "media-many": "La saisie en a déjà huit.",
    "media-hash": "Elle a changé en route. Envoyez-la encore.",
    "media-scanned": "Notre contrôle ne la laisse pas entrer. Dites-le-nous.",
    "entry-not-found": "Sa saisie n’est pas la vôtre. Dites-le-nous.",
    "farm-not-found": "Vous ne travaillez plus sur cette ferme. Dites-le-nous si c’est faux.",
  },
  refused: "N’a pas pu être prise :",

  open: (n: number, of: number) => (of > 1 ? `Ouvrir la photo ${n} sur ${of}` : "Ouvrir la photo"),
  coming: (n: number) =>
    plural(n, {
      one: "une photo ou note vocale doit encore arriver",
      other: `${number(n)} photos ou notes vocales doivent encore arriver`,
    }),
  takenAt: (lat: number, lng: number) => `Prise à ${number(lat, 5)} ; ${number(lng, 5)}`,
  broken: "Elle ne peut pas être montrée pour l’instant.",
};

export default fr;
