#include "ui/report/wording.h"

namespace becalm::report {
namespace {

constexpr Wording words{
    .contents = "Inhalt",
    .date = "Datum: {}",
    .client = "Auftraggeber: {}",
    .by_program = "Erstellt mit becalm {}",
    .yes = "ja",
    .no = "nein",
    .not_stated = "nicht angegeben",
    .logo = "Logo",
    .picture_not_drawn = "{}: Das Bild kann hier nicht dargestellt werden.",

    .verdicts = "Ergebnisse der Beurteilung",
    .counts = "{} beurteilt, davon {} mit Überschreitung; {} nicht beurteilbar.",
    .nothing_judged = "Es konnte nichts beurteilt werden: Die Gründe stehen bei jedem Messort.",
    .how_read = "Je Kriterium der ungünstigste Wert zuerst. Das Zeichen zeigt die Lage des Werts unter den Stufen, "
                "links die mildeste; die Bezeichnungen der Stufen sind die der Veröffentlichung.",
    .criterion = "Kriterium",
    .space = "Raum",
    .position = "Position",
    .condition = "Zustand",
    .use = "Nutzung",
    .axis = "Achse",
    .weighting = "Bewer\u00adtung",
    .value = "Wert",
    .uncertainty = "± (k\u00a0=\u00a02)",
    .unit = "Einheit",
    .place = "Lage",
    .band = "Stufe",
    .exceeded = "über\u00adschritten",
    .not_judged = "nicht beurteilt; siehe „Ausnahmen und Gründe“",
    .no_limits = "keine Anforderung festgelegt",
    .also = "{} (oder {})",
    .total_axis = "gesamt",

    .purpose = "Auftraggeber und Zweck",
    .purpose_words = "Beurteilt wird die Einwirkung von Schwingungen auf den Menschen, insbesondere auf sein "
                     "Wohlbefinden, nach den folgenden Kriterien.",
    .uses = "Nutzungen",
    .all_uses = "alle Nutzungen",
    .confirmed_by = "Zahlen mit der Veröffentlichung verglichen durch",
    .judged_by = "Vorgegebene Kriterien",
    .statement_table = "Angaben in der Messkampagne",
    .item = "Gegenstand der Angabe",
    .statement = "Angabe",
    .purpose_stated = "Anlass und Zweck",
    .object_stated = "Messobjekt",
    .author = "Bearbeitung",
    .instruments_stated = "Messeinrichtung",
    .mounting = "Ankopplung der Aufnehmer",
    .background = "Fremd- und Hintergrunderschütterungen",
    .complaints = "Beschwerden, Klappern, hörbarer Schall",
    .deviations = "Abweichungen von den Veröffentlichungen",
    .client_stated = "Auftraggeber",

    .object = "Gegenstand und Messorte",
    .setting = "Art des Objekts: {}.",
    .spaces = "Räume",
    .label = "Bezeichnung",
    .group = "Gruppe",
    .plan = "Plan",
    .mark = "Nr.",
    .plan_alternative = "Plan {} mit den Nummern seiner Räume",
    .plan_not_shown = "Der Plan {} ({}) wird nicht gezeigt: {}.",
    .plan_damaged = "seine PDF-Datei ist beschädigt",
    .plan_locked = "seine PDF-Datei ist durch ein Kennwort geschützt",
    .plan_no_page = "seine PDF-Datei hat keine Seite {}",
    .plan_failed = "seine Seite kann nicht gezeichnet werden",
    .plan_marks = "Marken: die Nummer des Raums und die Lage seines ungünstigsten Werts unter den Stufen; dunkel bei "
                  "Überschreitung.",
    .plan_unknown = "er ist kein Bild im Format PNG, JPEG oder SVG",
    .axes_words = "Achsen: x, y und z sind Translationen, rx, ry und rz Drehungen um diese Achsen. Beim Menschen ist x "
                  "die Richtung Rücken–Brust, y die seitliche Richtung und z die Richtung der Wirbelsäule; in Gebäuden "
                  "und auf Schiffen ist z lotrecht.",

    .conditions = "Betriebszustände, Zeiten und Quellen",
    .condition_table = "Betriebszustände",
    .title = "Titel",
    .noted = "Angaben",
    .period = "Zeitraum",
    .hours = "Stunden",
    .events = "Ereignisse",
    .source_table = "Schwingungsquellen",
    .source = "Quelle",
    .kind = "Art",
    .exposure_table = "Personen und ihre Tätigkeiten",
    .person = "Person",
    .day = "Tag",
    .no_conditions = "Die Messkampagne nennt keine Betriebszustände.",

    .instruments = "Messgeräte und Aufzeichnungen",
    .sensor_table = "Aufnehmer",
    .sensor = "Aufnehmer",
    .serial = "Seriennummer",
    .calibrated = "kalibriert",
    .certificate = "Kalibrierschein",
    .sensor_uncertainty = "Unsicherheit des Übertragungs\u00adfaktors (k = 2), %",
    .no_sensors = "Die Messkampagne nennt keine Aufnehmer: Die Kalibrierung kann nicht nachgewiesen und keine "
                  "Messunsicherheit angegeben werden.",
    .recording_table = "Aufzeichnungen",
    .recording = "Aufzeichnung",
    .channels = "Kanäle",
    .read_as = "gelesen als",
    .scale = "Wert 1 entspricht",
    .start = "Beginn",
    .comment = "Bemerkung",
    .not_read = "nicht gelesen",
    .filter_words = "Die Frequenzbewertungen werden für die Abtastrate jeder Aufzeichnung aus ihren veröffentlichten "
                    "Parametern berechnet, mit Abweichungen von höchstens 0,01 % und 0,01° von der Definition bis 112 "
                    "Hz (Hand-Arm-Bewertung: 1400 Hz). Die ersten Sekunden, in denen ein Filter einschwingt, bleiben "
                    "unberücksichtigt; die Anmerkungen nennen sie.",

    .left_out = "Ausnahmen und Gründe",
    .excluded_table = "Ausgenommene Abschnitte",
    .from_to = "von–bis, s",
    .reason = "Grund",
    .event_table = "Ereignisse: Nennt eine Aufzeichnung welche, werden nur diese beurteilt",
    .event = "Ereignis",
    .refused_table = "Messorte ohne Beurteilung",
    .nothing_left_out = "Kein Abschnitt einer Aufzeichnung wurde ausgenommen, und jeder Messort ist beurteilt.",

    .fitness = "Eignung der Aufzeichnungen",
    .finding_table = "Befunde",
    .severity = "Gewicht",
    .channel = "Kanal",
    .finding = "Befund",
    .finding_quoted = "Wortlaut des Programms (englisch)",
    .nothing_found = "Es fand sich nichts, wonach ein sorgfältiger Leser fragen würde.",
    .severity_words = "Ein Ausschluss hält die Aufzeichnung oder den Kanal von jeder Beurteilung fern; bei einer "
                      "Warnung bleibt der Wert bestehen; ein Hinweis ändert nichts.",

    .results = "Ergebnisse je Kriterium",
    .compared = "Verglichene Größe",
    .confirmed = "Wie die Zahlen bestätigt wurden: {}.",
    .from_memory = "aus dem Gedächtnis",
    .bands_table = "Stufen",
    .range = "Bereich",
    .below = "unter {}",
    .up_to = "bis {}",
    .above = "darüber",
    .from_on = "ab {} ",
    .exceeds = "über\u00adschreitet",
    .rulers = "Werte mit Messunsicherheit und Stufen",
    .notes = "Anmerkungen",
    .combined = "Zusammenfassung",
    .limits_missing = "Die Veröffentlichung setzt Anforderungen, die das Programm nicht enthält.",

    .causes = "Ursachen und Abhilfe",
    .causes_words = "Für den ungünstigsten Messort jedes Kriteriums: welche Anteile die bewertete Energie tragen, "
                    "wodurch sie entstehen und was den Wert in die nächste mildere Stufe brächte. Quellen sind die in "
                    "der Messkampagne genannten.",
    .cannot_explain = "Eine Erklärung ist nicht möglich, denn (englischer Wortlaut): {}.",
    .component_table = "Anteile, der stärkste zuerst",
    .frequency = "Hz",
    .weighted = "bewerteter Effektivwert, {}",
    .share = "Anteil, %",
    .made_by = "erzeugt von",
    .because = "Begründung (englisch)",
    .unexplained = "nicht zugeordnet",
    .energy = "Von der Energie stammen {} % aus genannten Quellen, {} % sind nicht zugeordnete Einzelanteile, {} % "
              "sind breitbandig.",
    .next_band = "Die nächste mildere Stufe, „{}“, beginnt {} % tiefer, bei {}.",
    .cure_reaches = "{} dB weniger von {} erreichen „{}“",
    .cure_alone = "mit {} allein nicht erreichbar: ohne diese Quelle beträgt der Wert {}",
    .cure_without = "ohne {} beträgt der Wert {}",
    .nothing_to_explain = "Es gibt keinen beurteilten Wert, der zu erklären wäre.",

    .uncertainty_chapter = "Messunsicherheit",
    .uncertainty_words =
        "Angegeben ist die erweiterte Messunsicherheit (k = 2). Sie setzt sich zusammen aus der Kalibrierung der "
        "Aufnehmer (den Achsen eines Aufnehmers gemeinsam), den Filtern (0,01 %), den Angaben der Messkampagne zu "
        "Ankopplung und Wahl des Messpunkts und der Streuung der Aufzeichnung selbst: in erster Näherung, oder durch "
        "Simulation, wo Achsen, Positionen oder Maxima konkurrieren. Die Tabelle gibt jeden Beitrag als "
        "Standardunsicherheit des Werts an. Wo sie fehlt, nennt die Messkampagne für die Aufnehmer keine Unsicherheit, "
        "oder die Größe ist keine Potenz der Bewegung.",
    .rule_simple = "Die Beurteilung vergleicht den Wert selbst mit der Anforderung, ohne die Messunsicherheit.",
    .rule_guarded =
        "Die Beurteilung vergleicht den Wert zuzüglich seiner erweiterten Messunsicherheit mit der Anforderung.",
    .budget = "Standardunsicherheit jedes Werts und ihre Beiträge",
    .unstated = "In der Messunsicherheit nicht enthalten",
    .unstated_quoted = "nicht enthalten (englischer Wortlaut)",
    .count_of_values = "Werte",
    .probability = "überschreitet mit, %",
    .near_table = "Werte, die einer Anforderung näher liegen als ihre Messunsicherheit",
    .limit = "Grenze",
    .none_near = "Kein Wert liegt näher an einer Anforderung als seine angegebene Messunsicherheit.",
    .settled_by = "zur Entscheidung nötig, Vielfaches der Aufzeichnung",
    .settled_by_none = "so nicht zu entscheiden: {}",

    .exposure = "Tagesexposition",
    .exposure_words =
        "Die Arbeitstage von Personen nach ihren Tätigkeiten. Eine Tätigkeit trägt auf jeder Achse A(8) = k a_w √(T / "
        "8 h) bei, bei Ganzkörper-Schwingungen mit k = 1,4 für x und y und 1 für z; ferner k VDV (T / beurteilte "
        "Dauer)^¼ sowie Punkte, 100 beim Auslösewert. Die Quadrate von A(8), die vierten Potenzen der Dosiswerte und "
        "die Punkte der Tätigkeiten werden je Achse addiert. Verglichen wird beim ganzen Körper die Achse mit dem "
        "größten Wert, bei einer Hand der Gesamtwert der Achsen. Die Stunden sind die Angaben der Messkampagne.",
    .whole_body = "Ganzkörper-Schwingungen",
    .hand_arm = "Hand-Arm-Schwingungen, {}",
    .hand_arm_governs = "Hand-Arm-Schwingungen, {} (maßgebende Hand)",
    .task = "Tätigkeit",
    .whole_day = "ganzer Tag",
    .points_an_hour = "Punkte/h",
    .points = "Punkte",
    .highest = "größter Wert: {}",
    .vector_sum = "Gesamtwert der Achsen",
    .not_within_a_day = "nicht innerhalb eines Tages",
    .others_exceed = "schon durch die anderen überschritten",
    .task_times = "Zulässige Dauer jeder Tätigkeit",
    .no_bound_in_a_day =
        "{}: Keine Tätigkeit erreicht innerhalb eines Tages eine Schwelle, weder allein noch neben den anderen.",
    .bound = "Schwelle",
    .alone = "allein, nach",
    .beside = "neben den anderen Tätigkeiten, nach",
    .left = "verbleibt",
    .same_work = "dieselbe Arbeit, in diesen Anteilen, erreicht sie nach",
    .seat_value = "SEAT-Wert, %",
    .duty = "Pflicht zum Handeln: {}.",
    .taken = "{} (gewählt, denn die Messkampagne gibt keines vor)",
    .exposure_caution =
        "Eine Beurteilung des Komforts ist keine Beurteilung von Gesundheitsgefahren. Angegeben sind Expositionen, wie "
        "sie gemessen wurden, nach den genannten Ausgaben und für die genannten Stunden; wie sehr Arbeit und Maschinen "
        "von Tag zu Tag schwanken, ist in der Messunsicherheit nicht enthalten (bei A(8) und VDV sind insgesamt 20 % "
        "bis 40 % üblich). Nationales Recht geht der Richtlinie vor; über Personen entscheidet eine befugte Fachkraft "
        "für Arbeitsmedizin oder Arbeitshygiene.",

    .cautions = "Vorbehalte und Warnhinweise",
    .caution_comfort = "Eine Beurteilung des Schwingungskomforts ist keine Beurteilung von Bauwerken, Maschinen oder "
                       "Gesundheitsgefahren.",
    .caution_limits = "Die Anforderungen stammen aus den angegebenen Ausgaben. Örtliche Vorschriften, Verträge und die "
                      "Entscheidung befugter Fachleute gehen vor.",
    .caution_memory = "Mit „aus dem Gedächtnis“ bezeichnete Zahlen wurden nicht mit der Veröffentlichung verglichen: "
                      "Vergleichen Sie sie vor der Unterschrift mit Ihrem Exemplar. Es sind die Zahlen von {}.",
    .caution_health = "Für {} ist ein Auslösewert zum Schutz der Gesundheit überschritten. Der Arbeitgeber ist zum "
                      "Handeln verpflichtet: Er muss die Exposition verringern und das geltende Recht befolgen. Über "
                      "Personen entscheidet eine Ärztin, ein Arzt oder eine befugte Fachkraft für Arbeitshygiene.",
    .quotes = "Befunde, Gründe, Anmerkungen, Begründungen und Rechenschritte des Programms sind in seinem englischen "
              "Wortlaut wiedergegeben; Stufen und Titel sind die der Veröffentlichungen oder der Kriterien.",

    .appendix_values = "Anhang A: alle Werte mit allen Stellen",
    .values_words = "Nicht gerundet, in SI-Einheiten. Mit den Aufzeichnungen aus Anhang D, der Frequenzbewertung und "
                    "der Formel des Kriteriums kann jeder Wert nachgerechnet werden.",
    .values_table = "Verglichene Werte",
    .verdict = "Beurteilung",
    .terms_table = "Werte der Achsen",
    .factor = "Faktor",
    .duration = "Dauer, s",
    .recordings = "Aufzeichnungen",
    .appendix_steps = "Anhang B: Rechenschritte",
    .steps_table = "Schritte in ihrer Reihenfolge",
    .step = "Schritt (englischer Wortlaut)",
    .of = "von",
    .appendix_sources = "Anhang C: Veröffentlichungen",
    .sources_table = "Verwendete Veröffentlichungen",
    .edition = "Ausgabe",
    .status = "Stand (englisch)",
    .seen = "Einsicht in den Inhalt (englisch)",
    .appendix_inputs = "Anhang D: Grundlagen des Berichts",
    .inputs_words =
        "Das Siegel in der letzten Zeile ist der SHA-256-Wert dieser Grundlagen, der Werte aus Anhang A und des Texts "
        "dieses Berichts. Es ist keine Unterschrift: Es zeigt, was seitdem geändert wurde, nicht wer es geändert hat. "
        "`becalm verify` beurteilt die Messkampagne erneut und nennt, was abweicht.",
    .seal_of_html = "Siegel (SHA-256) desselben Berichts als HTML: {}",
    .inputs_table = "Grundlagen",
    .input = "Grundlage",
    .name = "Name",
    .sha256 = "SHA-256 oder Wert",
    .in_place_of_own = "statt der Kriterien der Messkampagne",

    .settings = {"Schiff", "Schienenfahrzeug", "Straßenfahrzeug", "Gebäude", "Aufzug"},
    .severities = {"Hinweis", "Warnung", "Ausschluss"},
    .axis_rules = {"jede Achse wird für sich beurteilt", "die Achse mit dem größten Wert ist maßgebend",
                   "nur die lotrechte Achse wird beurteilt",
                   "Wurzel aus der Summe der Quadrate der Achsen, jede mit ihrem Faktor multipliziert",
                   "Summe der Wurzeln aus den Quadratsummen von Achsengruppen",
                   "Wurzel aus der Quadratsumme der ersten Gruppe, bezogen auf die der zweiten, in Prozent"},
    .parts_rules = {"Betriebszustände werden getrennt beurteilt",
                    "Werte von Betriebszuständen oder Tätigkeiten werden addiert",
                    "Quadrate der Werte von Betriebszuständen oder Tätigkeiten werden addiert",
                    "vierte Potenzen der Werte von Betriebszuständen oder Tätigkeiten werden addiert",
                    "der Betriebszustand mit dem größten Wert ist maßgebend"},
    .repeats_rules = {"wiederholte Aufzeichnungen gelten als eine längere",
                      "von wiederholten Aufzeichnungen zählt der Mittelwert der Werte",
                      "von wiederholten Aufzeichnungen zählt der größte Wert"},
};

} // namespace

const Wording& german() { return words; }

} // namespace becalm::report
