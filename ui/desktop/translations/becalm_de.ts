<?xml version="1.0" encoding="utf-8"?>
<!DOCTYPE TS>
<TS version="2.1" language="de" sourcelanguage="en">
<context>
    <name>becalm::desktop</name>
    <message>
        <source>File</source>
        <translation>Datei</translation>
    </message>
    <message>
        <source>Relative to the survey&apos;s folder</source>
        <translation>Vom Ordner der Messung aus</translation>
    </message>
    <message>
        <source>Channel</source>
        <translation>Kanal</translation>
    </message>
    <message>
        <source>Counted from 1, as the file has them</source>
        <translation>Von 1 an gezählt, wie in der Datei</translation>
    </message>
    <message>
        <source>Its name</source>
        <translation>Sein Name</translation>
    </message>
    <message>
        <source>Of the channel, as the file has it</source>
        <translation>Des Kanals, wie in der Datei</translation>
    </message>
    <message>
        <source>The file says</source>
        <translation>Die Datei sagt</translation>
    </message>
    <message>
        <source>Rate, duration, unit and format, or what is wrong</source>
        <translation>Abtastrate, Dauer, Einheit und Format, oder was nicht stimmt</translation>
    </message>
    <message>
        <source>Axis</source>
        <translation>Achse</translation>
    </message>
    <message>
        <source>x fore-and-aft, y lateral, z vertical or along the spine; roll, pitch and yaw turn about x, y, z</source>
        <translation>x längs, y quer, z senkrecht oder längs der Wirbelsäule; Rollen, Nicken und Gieren drehen um x, y, z</translation>
    </message>
    <message>
        <source>Unit</source>
        <translation>Einheit</translation>
    </message>
    <message>
        <source>Of all channels of the recording</source>
        <translation>Aller Kanäle der Aufzeichnung</translation>
    </message>
    <message>
        <source>Scale</source>
        <translation>Skalierung</translation>
    </message>
    <message>
        <source>What a stored 1.0 is in this unit; integer samples have 1.0 at full scale</source>
        <translation>Was eine gespeicherte 1,0 in dieser Einheit ist; ganzzahlige Werte haben 1,0 bei Vollausschlag</translation>
    </message>
    <message>
        <source>Space</source>
        <translation>Raum</translation>
    </message>
    <message>
        <source>Where it was taken; a new name makes a new space</source>
        <translation>Wo sie entstand; ein neuer Name legt einen neuen Raum an</translation>
    </message>
    <message>
        <source>Position</source>
        <translation>Stelle</translation>
    </message>
    <message>
        <source>Where on or under a person the sensor sat</source>
        <translation>Wo an oder unter einer Person der Aufnehmer saß</translation>
    </message>
    <message>
        <source>Condition</source>
        <translation>Betriebszustand</translation>
    </message>
    <message>
        <source>What ran meanwhile</source>
        <translation>Was dabei lief</translation>
    </message>
    <message>
        <source>Sensor</source>
        <translation>Aufnehmer</translation>
    </message>
    <message>
        <source>Its uncertainty goes into the verdict</source>
        <translation>Seine Unsicherheit geht in das Urteil ein</translation>
    </message>
    <message>
        <source>Start</source>
        <translation>Beginn</translation>
    </message>
    <message>
        <source>Date, time and offset from UTC, such as 2026-05-02T10:12:00+01:00</source>
        <translation>Datum, Uhrzeit und Abstand von UTC, etwa 2026-05-02T10:12:00+01:00</translation>
    </message>
    <message>
        <source>Comment</source>
        <translation>Bemerkung</translation>
    </message>
    <message>
        <source>%1: not within a day of this work</source>
        <translation>%1: nicht innerhalb eines Tages dieser Arbeit</translation>
    </message>
    <message>
        <source>%1: after %2 of this work</source>
        <translation>%1: nach %2 dieser Arbeit</translation>
    </message>
    <message>
        <source>%1 min</source>
        <translation>%1 min</translation>
    </message>
    <message>
        <source>%1 h</source>
        <translation>%1 h</translation>
    </message>
    <message>
        <source>%1 h %2 min</source>
        <translation>%1 h %2 min</translation>
    </message>
    <message>
        <source>Id</source>
        <translation>Kennung</translation>
    </message>
    <message>
        <source>Renaming it renames it wherever it is named.</source>
        <translation>Umbenennen benennt überall um, wo sie genannt ist.</translation>
    </message>
    <message>
        <source>no date: nobody can tell whether it was calibrated</source>
        <translation>kein Datum: niemand weiß, ob er kalibriert war</translation>
    </message>
    <message>
        <source>more than %1 years before its use on %2: have it checked</source>
        <translation>mehr als %1 Jahre vor dem Einsatz am %2: prüfen lassen</translation>
    </message>
    <message>
        <source>no recording with a start names it</source>
        <translation>keine Aufzeichnung mit Beginn nennt ihn</translation>
    </message>
    <message>
        <source>in time for its use until %1</source>
        <translation>rechtzeitig für den Einsatz bis %1</translation>
    </message>
    <message>
        <source>sensor</source>
        <translation>Aufnehmer</translation>
    </message>
    <message>
        <source>What recordings call it.</source>
        <translation>Wie Aufzeichnungen ihn nennen.</translation>
    </message>
    <message>
        <source>Title</source>
        <translation>Titel</translation>
    </message>
    <message>
        <source>Serial number</source>
        <translation>Seriennummer</translation>
    </message>
    <message>
        <source>Calibrated</source>
        <translation>Kalibriert</translation>
    </message>
    <message>
        <source>Year-month-day; Delete empties the cell</source>
        <translation>Jahr-Monat-Tag; Entf leert die Zelle</translation>
    </message>
    <message>
        <source>Certificate</source>
        <translation>Zertifikat</translation>
    </message>
    <message>
        <source>Number on the certificate</source>
        <translation>Nummer auf dem Zertifikat</translation>
    </message>
    <message>
        <source>Uncertainty (%)</source>
        <translation>Unsicherheit (%)</translation>
    </message>
    <message>
        <source>Expanded uncertainty (k = 2) of the sensitivity; it goes into every verdict</source>
        <translation>Erweiterte Unsicherheit (k = 2) der Empfindlichkeit; sie geht in jedes Urteil ein</translation>
    </message>
    <message>
        <source>Calibration</source>
        <translation>Kalibrierung</translation>
    </message>
    <message>
        <source>Against the days of use. %1 years is common practice and no rule of a publication.</source>
        <translation>Gegen die Tage des Einsatzes. %1 Jahre sind üblich und keine Regel einer Veröffentlichung.</translation>
    </message>
    <message>
        <source>condition</source>
        <translation>Betriebszustand</translation>
    </message>
    <message>
        <source>not said</source>
        <translation>nicht gesagt</translation>
    </message>
    <message>
        <source>Stands for</source>
        <translation>Steht für</translation>
    </message>
    <message>
        <source>Part of the day that its recordings stand for</source>
        <translation>Teil des Tages, für den seine Aufzeichnungen stehen</translation>
    </message>
    <message>
        <source>Lasts (h)</source>
        <translation>Dauert (h)</translation>
    </message>
    <message>
        <source>Hours a day, or of the period</source>
        <translation>Stunden am Tag, oder des Zeitraums</translation>
    </message>
    <message>
        <source>Events</source>
        <translation>Ereignisse</translation>
    </message>
    <message>
        <source>How often the recorded event happens in the period</source>
        <translation>Wie oft das aufgezeichnete Ereignis im Zeitraum vorkommt</translation>
    </message>
    <message>
        <source>source</source>
        <translation>Quelle</translation>
    </message>
    <message>
        <source>What figures call it.</source>
        <translation>Wie Abbildungen sie nennen.</translation>
    </message>
    <message>
        <source>Kind</source>
        <translation>Art</translation>
    </message>
    <message>
        <source>Says which frequencies follow from its values</source>
        <translation>Sagt, welche Frequenzen aus ihren Werten folgen</translation>
    </message>
    <message>
        <source>space</source>
        <translation>Raum</translation>
    </message>
    <message>
        <source>Label</source>
        <translation>Bezeichnung</translation>
    </message>
    <message>
        <source>Use</source>
        <translation>Nutzung</translation>
    </message>
    <message>
        <source>Chooses the scale of a criterion: the same motion is worse in a cabin than in a galley</source>
        <translation>Wählt die Skala eines Kriteriums: Dieselbe Bewegung ist in einer Kabine schlimmer als in einer Kombüse</translation>
    </message>
    <message>
        <source>Group</source>
        <translation>Gruppe</translation>
    </message>
    <message>
        <source>A deck, a storey, a coach</source>
        <translation>Ein Deck, ein Geschoss, ein Wagen</translation>
    </message>
    <message>
        <source>Person</source>
        <translation>Person</translation>
    </message>
    <message>
        <source>Or the job, where several persons do it</source>
        <translation>Oder die Tätigkeit, wo mehrere Personen sie ausüben</translation>
    </message>
    <message>
        <source>Day</source>
        <translation>Tag</translation>
    </message>
    <message>
        <source>Where the days of a week differ</source>
        <translation>Wo sich die Tage einer Woche unterscheiden</translation>
    </message>
    <message>
        <source>Where</source>
        <translation>Wo</translation>
    </message>
    <message>
        <source>The space of the task</source>
        <translation>Der Raum der Aufgabe</translation>
    </message>
    <message>
        <source>Where the motion enters; empty: the one that was measured there</source>
        <translation>Wo die Bewegung eintritt; leer: die dort gemessene</translation>
    </message>
    <message>
        <source>What runs meanwhile; empty: all that was measured</source>
        <translation>Was dabei läuft; leer: alles Gemessene</translation>
    </message>
    <message>
        <source>Hours</source>
        <translation>Stunden</translation>
    </message>
    <message>
        <source>Of exposure a day</source>
        <translation>Belastung am Tag</translation>
    </message>
    <message>
        <source>Reference channel</source>
        <translation>Bezugskanal</translation>
    </message>
    <message>
        <source>Of the recordings&apos; files, where a transducer sits on the source; needs no axis</source>
        <translation>Der Dateien der Aufzeichnungen, wo ein Aufnehmer auf der Quelle sitzt; braucht keine Achse</translation>
    </message>
    <message>
        <source>Mounting (%)</source>
        <translation>Montage (%)</translation>
    </message>
    <message>
        <source>Your estimate of what the mounting adds to the uncertainty (k = 2), in place of the survey&apos;s</source>
        <translation>Ihre Schätzung, was die Montage zur Unsicherheit beiträgt (k = 2), anstelle der für die ganze Messung</translation>
    </message>
    <message>
        <source>Place (%)</source>
        <translation>Platz (%)</translation>
    </message>
    <message>
        <source>Your estimate of what the place adds to the uncertainty (k = 2), in place of the space&apos;s and the survey&apos;s</source>
        <translation>Ihre Schätzung, was der Platz zur Unsicherheit beiträgt (k = 2), anstelle der für den Raum und die ganze Messung</translation>
    </message>
    <message>
        <source>Your estimate of what the choice of the place adds to the uncertainty (k = 2), in place of the survey&apos;s</source>
        <translation>Ihre Schätzung, was die Wahl des Platzes zur Unsicherheit beiträgt (k = 2), anstelle der für die ganze Messung</translation>
    </message>
    <message>
        <source>Resample to (Hz)</source>
        <translation>Neu abtasten auf (Hz)</translation>
    </message>
    <message>
        <source>Of a text whose times run unevenly: the even rate its rows are put onto</source>
        <translation>Bei Text, dessen Zeiten ungleichmäßig laufen: die gleichmäßige Rate, auf die seine Zeilen gebracht werden</translation>
    </message>
    <message>
        <source>Sensitivity</source>
        <translation>Empfindlichkeit</translation>
    </message>
    <message>
        <source>Where volts were recorded, such as 10.2 mV/(m/s2), in place of the unit; the scale is then in volts</source>
        <translation>Wo Volt aufgezeichnet wurden, etwa 10.2 mV/(m/s2), anstelle der Einheit; die Skalierung gilt dann in Volt</translation>
    </message>
    <message>
        <source>Model</source>
        <translation>Modell</translation>
    </message>
    <message>
        <source>Maker and type</source>
        <translation>Hersteller und Typ</translation>
    </message>
    <message>
        <source>Held against what a file says of its sensors</source>
        <translation>Wird mit dem verglichen, was eine Datei über ihre Sensoren sagt</translation>
    </message>
    <message>
        <source>As its data sheet states it; changes no value</source>
        <translation>Wie das Datenblatt sie angibt; ändert keinen Wert</translation>
    </message>
    <message>
        <source>Its unit</source>
        <translation>Deren Einheit</translation>
    </message>
    <message>
        <source>Such as mV/(m/s2)</source>
        <translation>Etwa mV/(m/s2)</translation>
    </message>
    <message>
        <source>Valid (months)</source>
        <translation>Gültig (Monate)</translation>
    </message>
    <message>
        <source>How long a calibration holds; a later recording is a caution</source>
        <translation>Wie lange eine Kalibrierung gilt; eine spätere Aufzeichnung mahnt zur Vorsicht</translation>
    </message>
    <message>
        <source>Noise (m/s2)</source>
        <translation>Rauschen (m/s2)</translation>
    </message>
    <message>
        <source>R.m.s. value with the sensor at rest, weighted or within the band that is judged</source>
        <translation>Effektivwert bei ruhendem Sensor, bewertet oder im beurteilten Frequenzbereich</translation>
    </message>
    <message>
        <source>Data sheet (TEDS)</source>
        <translation>Datenblatt (TEDS)</translation>
    </message>
    <message>
        <source>Electronic data sheet of the sensor: hexadecimal text, or a file in the survey&apos;s folder</source>
        <translation>Elektronisches Datenblatt des Sensors: hexadezimaler Text oder eine Datei im Ordner der Messung</translation>
    </message>
</context>
<context>
    <name>becalm::desktop::ChannelModel</name>
    <message>
        <source>roll</source>
        <translation>Rollen</translation>
    </message>
    <message>
        <source>pitch</source>
        <translation>Nicken</translation>
    </message>
    <message>
        <source>yaw</source>
        <translation>Gieren</translation>
    </message>
    <message>
        <source>%1 s</source>
        <translation>%1 s</translation>
    </message>
    <message>
        <source>%1 min</source>
        <translation>%1 min</translation>
    </message>
    <message>
        <source>%1 h</source>
        <translation>%1 h</translation>
    </message>
    <message>
        <source>not used</source>
        <translation>nicht benutzt</translation>
    </message>
    <message>
        <source>none</source>
        <translation>keine</translation>
    </message>
    <message>
        <source>needed</source>
        <translation>nötig</translation>
    </message>
    <message>
        <source>being read …</source>
        <translation>wird gelesen …</translation>
    </message>
    <message>
        <source>not there</source>
        <translation>nicht da</translation>
    </message>
    <message>
        <source>cannot be read</source>
        <translation>nicht lesbar</translation>
    </message>
    <message numerus="yes">
        <source>has only %n channel(s)</source>
        <translation>
            <numerusform>hat nur %n Kanal</numerusform>
            <numerusform>hat nur %n Kanäle</numerusform>
        </translation>
    </message>
    <message>
        <source>%1 Hz, %2</source>
        <translation>%1 Hz, %2</translation>
    </message>
    <message>
        <source>, integers</source>
        <translation>, ganzzahlig</translation>
    </message>
    <message>
        <source>%1 is being read</source>
        <translation>%1 wird gelesen</translation>
    </message>
    <message>
        <source>%1: %2</source>
        <translation>%1: %2</translation>
    </message>
    <message numerus="yes">
        <source>%1: %2, %3 Hz, %n channel(s), %4</source>
        <translation>
            <numerusform>%1: %2, %3 Hz, %n Kanal, %4</numerusform>
            <numerusform>%1: %2, %3 Hz, %n Kanäle, %4</numerusform>
        </translation>
    </message>
    <message>
        <source>; it states no unit</source>
        <translation>; sie nennt keine Einheit</translation>
    </message>
    <message>
        <source>; unit %1</source>
        <translation>; Einheit %1</translation>
    </message>
    <message>
        <source>; started %1</source>
        <translation>; Beginn %1</translation>
    </message>
    <message>
        <source>; its channels have no names</source>
        <translation>; ihre Kanäle haben keine Namen</translation>
    </message>
    <message>
        <source>; integer samples, which need a scale</source>
        <translation>; ganzzahlige Werte, die eine Skalierung brauchen</translation>
    </message>
    <message>
        <source>Integer samples: say what full scale is in this unit</source>
        <translation>Ganzzahlige Werte: Sagen Sie, was Vollausschlag in dieser Einheit ist</translation>
    </message>
    <message>
        <source>A guess: %1. Change it, or say &quot;These are right&quot;.</source>
        <translation>Eine Vermutung: %1. Ändern Sie sie, oder sagen Sie „Diese stimmen“.</translation>
    </message>
    <message>
        <source>the block has more rows than there are below</source>
        <translation>der Block hat mehr Zeilen, als darunter sind</translation>
    </message>
    <message>
        <source>add the recordings first</source>
        <translation>fügen Sie zuerst die Aufzeichnungen hinzu</translation>
    </message>
    <message>
        <source>guesses found right</source>
        <translation>Vermutungen bestätigt</translation>
    </message>
    <message numerus="yes">
        <source>removal of %n recording(s)</source>
        <translation>
            <numerusform>%n Aufzeichnung herausnehmen</numerusform>
            <numerusform>%n Aufzeichnungen herausnehmen</numerusform>
        </translation>
    </message>
    <message>
        <source>Choose channels of one recording to give them a place of their own.</source>
        <translation>Wählen Sie Kanäle einer Aufzeichnung, um ihnen einen eigenen Ort zu geben.</translation>
    </message>
    <message>
        <source>These are all channels of the recording: change its space instead.</source>
        <translation>Das sind alle Kanäle der Aufzeichnung: Ändern Sie stattdessen deren Raum.</translation>
    </message>
    <message>
        <source>%1, other place</source>
        <translation>%1, anderer Ort</translation>
    </message>
    <message>
        <source>a place of its own</source>
        <translation>ein eigener Ort</translation>
    </message>
</context>
<context>
    <name>becalm::desktop::Comparison</name>
    <message>
        <source>not measured</source>
        <translation>nicht gemessen</translation>
    </message>
    <message>
        <source>%1 in both</source>
        <translation>%1 in beiden</translation>
    </message>
    <message>
        <source> (worse by %1)</source>
        <translation> (schlechter um %1)</translation>
    </message>
    <message>
        <source> (better by %1)</source>
        <translation> (besser um %1)</translation>
    </message>
    <message>
        <source>space</source>
        <translation>Raum</translation>
    </message>
    <message>
        <source>position</source>
        <translation>Stelle</translation>
    </message>
    <message>
        <source>criterion</source>
        <translation>Kriterium</translation>
    </message>
    <message>
        <source>unit</source>
        <translation>Einheit</translation>
    </message>
    <message>
        <source>change, %</source>
        <translation>Änderung, %</translation>
    </message>
    <message>
        <source>change, dB</source>
        <translation>Änderung, dB</translation>
    </message>
    <message>
        <source>bands</source>
        <translation>Stufen</translation>
    </message>
</context>
<context>
    <name>becalm::desktop::ComparisonPanel</name>
    <message>
        <source>&amp;From</source>
        <translation>&amp;Von</translation>
    </message>
    <message>
        <source>First condition</source>
        <translation>Erster Betriebszustand</translation>
    </message>
    <message>
        <source>&amp;to</source>
        <translation>&amp;bis</translation>
    </message>
    <message>
        <source>Second condition</source>
        <translation>Zweiter Betriebszustand</translation>
    </message>
    <message>
        <source>Changes from the first condition to the second</source>
        <translation>Änderungen vom ersten Betriebszustand zum zweiten</translation>
    </message>
    <message>
        <source>Copy the table</source>
        <translation>Tabelle kopieren</translation>
    </message>
    <message>
        <source>About the two conditions</source>
        <translation>Zu den beiden Betriebszuständen</translation>
    </message>
    <message>
        <source>Space</source>
        <translation>Raum</translation>
    </message>
    <message>
        <source>Criterion</source>
        <translation>Kriterium</translation>
    </message>
    <message>
        <source>Change</source>
        <translation>Änderung</translation>
    </message>
    <message>
        <source>Change in dB</source>
        <translation>Änderung in dB</translation>
    </message>
    <message>
        <source>Band</source>
        <translation>Stufe</translation>
    </message>
    <message>
        <source>not measured</source>
        <translation>nicht gemessen</translation>
    </message>
    <message>
        <source>Only one condition was measured here; there is nothing to compare it with.</source>
        <translation>Hier wurde nur ein Betriebszustand gemessen; es gibt nichts zum Vergleichen.</translation>
    </message>
    <message>
        <source>Nothing was measured in these two conditions.</source>
        <translation>In diesen beiden Betriebszuständen wurde nichts gemessen.</translation>
    </message>
</context>
<context>
    <name>becalm::desktop::ComponentsModel</name>
    <message>
        <source>unexplained: no source of the survey makes it</source>
        <translation>ungeklärt: keine Quelle der Messung erzeugt sie</translation>
    </message>
    <message>
        <source> or </source>
        <translation> oder </translation>
    </message>
    <message>
        <source>%1 (%2)</source>
        <translation>%1 (%2)</translation>
    </message>
    <message>
        <source>at %1</source>
        <translation>bei %1</translation>
    </message>
    <message>
        <source>%1 to %2</source>
        <translation>%1 bis %2</translation>
    </message>
    <message>
        <source>Frequency</source>
        <translation>Frequenz</translation>
    </message>
    <message>
        <source>Axis</source>
        <translation>Achse</translation>
    </message>
    <message>
        <source>Share</source>
        <translation>Anteil</translation>
    </message>
    <message>
        <source>Made by</source>
        <translation>Erzeugt von</translation>
    </message>
    <message>
        <source>Because</source>
        <translation>Weil</translation>
    </message>
    <message>
        <source>Series</source>
        <translation>Reihe</translation>
    </message>
    <message>
        <source>Beats</source>
        <translation>Schwebung</translation>
    </message>
    <message>
        <source>Drifts</source>
        <translation>Wandert</translation>
    </message>
    <message>
        <source>Of the energy: %1 by named sources, %2 in components that no source explains, %3 broad.</source>
        <translation>Von der Energie: %1 durch genannte Quellen, %2 in Anteilen, die keine Quelle erklärt, %3 breitbandig.</translation>
    </message>
</context>
<context>
    <name>becalm::desktop::CriteriaPanel</name>
    <message>
        <source>Search the criteria</source>
        <translation>Kriterien durchsuchen</translation>
    </message>
    <message>
        <source>Criteria that judge this survey</source>
        <translation>Kriterien, die diese Messung beurteilen</translation>
    </message>
    <message>
        <source>How many criteria</source>
        <translation>Wie viele Kriterien</translation>
    </message>
    <message>
        <source>Who compared the numbers with the publication, and when</source>
        <translation>Wer die Zahlen wann mit der Veröffentlichung verglich</translation>
    </message>
    <message>
        <source>name, date, copy of the publication</source>
        <translation>Name, Datum, Exemplar der Veröffentlichung</translation>
    </message>
    <message>
        <source>&amp;Judge by it</source>
        <translation>Danach &amp;beurteilen</translation>
    </message>
    <message>
        <source>&amp;Not now</source>
        <translation>&amp;Nicht jetzt</translation>
    </message>
    <message>
        <source>%1 of %2 criteria for this setting judge the survey.</source>
        <translation>%1 von %2 Kriterien dieser Art beurteilen die Messung.</translation>
    </message>
    <message>
        <source> – for %1</source>
        <translation> – für %1</translation>
    </message>
    <message>
        <source> – its numbers must be compared first</source>
        <translation> – seine Zahlen sind erst zu vergleichen</translation>
    </message>
    <message>
        <source> – its limits must be typed in</source>
        <translation> – seine Grenzwerte sind einzugeben</translation>
    </message>
    <message>
        <source>judge by a criterion</source>
        <translation>nach einem Kriterium beurteilen</translation>
    </message>
    <message>
        <source>leave out a criterion</source>
        <translation>ein Kriterium weglassen</translation>
    </message>
    <message>
        <source>The numbers of %1 are from memory and not certain. Who compared them with the publication, and when? The answer stands in the survey.</source>
        <translation>Die Zahlen von %1 stammen aus dem Gedächtnis und sind nicht sicher. Wer hat sie wann mit der Veröffentlichung verglichen? Die Antwort steht in der Messung.</translation>
    </message>
</context>
<context>
    <name>becalm::desktop::EntryModel</name>
    <message>
        <source>new %1</source>
        <translation>neu: %1</translation>
    </message>
    <message>
        <source>removal of a %1</source>
        <translation>herausgenommen: %1</translation>
    </message>
</context>
<context>
    <name>becalm::desktop::FigureView</name>
    <message>
        <source>no figure</source>
        <translation>keine Abbildung</translation>
    </message>
    <message>
        <source>Write the figure to</source>
        <translation>Abbildung schreiben nach</translation>
    </message>
    <message>
        <source>Write as SVG…</source>
        <translation>Als SVG schreiben …</translation>
    </message>
    <message>
        <source>Drawing (*.svg)</source>
        <translation>Zeichnung (*.svg)</translation>
    </message>
    <message>
        <source>Write as PNG…</source>
        <translation>Als PNG schreiben …</translation>
    </message>
    <message>
        <source>Picture (*.png)</source>
        <translation>Bild (*.png)</translation>
    </message>
    <message>
        <source>Write as PDF…</source>
        <translation>Als PDF schreiben …</translation>
    </message>
    <message>
        <source>Page (*.pdf)</source>
        <translation>Seite (*.pdf)</translation>
    </message>
    <message>
        <source>Write its numbers as CSV…</source>
        <translation>Ihre Zahlen als CSV schreiben …</translation>
    </message>
    <message>
        <source>Table (*.csv)</source>
        <translation>Tabelle (*.csv)</translation>
    </message>
    <message>
        <source>%1: a figure is written as .svg, .png, .pdf or .csv; end the name with one of them</source>
        <translation>%1: Eine Abbildung wird als .svg, .png, .pdf oder .csv geschrieben; lassen Sie den Namen mit einem davon enden</translation>
    </message>
    <message>
        <source>; here %1</source>
        <translation>; hier %1</translation>
    </message>
    <message>
        <source>; curve %1</source>
        <translation>; Kurve %1</translation>
    </message>
    <message>
        <source>Copy the figure</source>
        <translation>Abbildung kopieren</translation>
    </message>
    <message>
        <source>Copy its numbers</source>
        <translation>Ihre Zahlen kopieren</translation>
    </message>
</context>
<context>
    <name>becalm::desktop::GatherPage</name>
    <message>
        <source>vessel</source>
        <translation>Schiff</translation>
    </message>
    <message>
        <source>rail vehicle</source>
        <translation>Schienenfahrzeug</translation>
    </message>
    <message>
        <source>road vehicle</source>
        <translation>Straßenfahrzeug</translation>
    </message>
    <message>
        <source>building</source>
        <translation>Gebäude</translation>
    </message>
    <message>
        <source>lift</source>
        <translation>Aufzug</translation>
    </message>
    <message>
        <source>What the survey tells of</source>
        <translation>Wovon die Messung handelt</translation>
    </message>
    <message>
        <source>Spaces</source>
        <translation>Räume</translation>
    </message>
    <message>
        <source>A row a room, cabin, seat row or floor. Its use chooses the scale of a criterion.</source>
        <translation>Eine Zeile je Raum, Kabine, Sitzreihe oder Decke. Die Nutzung wählt die Skala eines Kriteriums.</translation>
    </message>
    <message>
        <source>Conditions</source>
        <translation>Betriebszustände</translation>
    </message>
    <message>
        <source>What the ship, train, lift, plant or traffic was doing. A space is judged for each condition by itself.</source>
        <translation>Was Schiff, Zug, Aufzug, Anlage oder Verkehr taten. Ein Raum wird für jeden Betriebszustand für sich beurteilt.</translation>
    </message>
    <message>
        <source>Sensors</source>
        <translation>Aufnehmer</translation>
    </message>
    <message>
        <source>A recording that names a sensor carries its uncertainty into the verdict.</source>
        <translation>Eine Aufzeichnung, die einen Aufnehmer nennt, bringt dessen Unsicherheit in das Urteil ein.</translation>
    </message>
    <message>
        <source>Sources</source>
        <translation>Quellen</translation>
    </message>
    <message>
        <source>What can excite vibration. Sources explain peaks of a spectrum; no verdict depends on them.</source>
        <translation>Was Schwingungen anregen kann. Quellen erklären Spitzen eines Spektrums; kein Urteil hängt von ihnen ab.</translation>
    </message>
    <message>
        <source>S&amp;urvey</source>
        <translation>M&amp;essung</translation>
    </message>
    <message>
        <source>&amp;Add recordings…</source>
        <translation>Aufzeichnungen &amp;hinzufügen …</translation>
    </message>
    <message>
        <source>Or drop files or a folder on this page</source>
        <translation>Oder ziehen Sie Dateien oder einen Ordner auf diese Seite</translation>
    </message>
    <message>
        <source>Add a &amp;folder…</source>
        <translation>&amp;Ordner hinzufügen …</translation>
    </message>
    <message>
        <source>Every recording in it and up to three folders below</source>
        <translation>Jede Aufzeichnung darin und bis drei Ordner tiefer</translation>
    </message>
    <message>
        <source>&amp;These are right</source>
        <translation>&amp;Diese stimmen</translation>
    </message>
    <message>
        <source>What is guessed for the chosen recordings is so</source>
        <translation>Was für die gewählten Aufzeichnungen vermutet ist, trifft zu</translation>
    </message>
    <message>
        <source>&amp;Place of its own</source>
        <translation>Ei&amp;gener Ort</translation>
    </message>
    <message>
        <source>The chosen channels of a recording were somewhere else: they get a space of their own</source>
        <translation>Die gewählten Kanäle einer Aufzeichnung waren anderswo: Sie bekommen einen eigenen Raum</translation>
    </message>
    <message>
        <source>Ta&amp;ke out</source>
        <translation>He&amp;rausnehmen</translation>
    </message>
    <message>
        <source>The chosen recordings leave the survey; their files stay where they are</source>
        <translation>Die gewählten Aufzeichnungen verlassen die Messung; ihre Dateien bleiben, wo sie sind</translation>
    </message>
    <message>
        <source>A row a channel. What belongs to the whole recording changes in all its rows. Guesses say so until you change them or say that they are right.</source>
        <translation>Eine Zeile je Kanal. Was zur ganzen Aufzeichnung gehört, ändert sich in allen ihren Zeilen. Vermutungen weisen sich aus, bis Sie sie ändern oder bestätigen.</translation>
    </message>
    <message>
        <source>Recordings and channels</source>
        <translation>Aufzeichnungen und Kanäle</translation>
    </message>
    <message>
        <source>What the chosen file says</source>
        <translation>Was die gewählte Datei sagt</translation>
    </message>
    <message>
        <source>Recordings</source>
        <translation>Aufzeichnungen</translation>
    </message>
    <message>
        <source>Folder of recordings</source>
        <translation>Ordner der Aufzeichnungen</translation>
    </message>
    <message>
        <source>&amp;Add</source>
        <translation>&amp;Hinzufügen</translation>
    </message>
    <message>
        <source>Add to %1</source>
        <translation>Hinzufügen zu: %1</translation>
    </message>
    <message>
        <source>Take out of %1</source>
        <translation>Herausnehmen aus: %1</translation>
    </message>
    <message>
        <source>The chosen rows; refused while something names one of them</source>
        <translation>Die gewählten Zeilen; abgelehnt, solange etwas eine davon nennt</translation>
    </message>
    <message>
        <source>Title of the survey</source>
        <translation>Titel der Messung</translation>
    </message>
    <message>
        <source>Setting of the survey</source>
        <translation>Art der Messung</translation>
    </message>
    <message>
        <source>Client of the survey</source>
        <translation>Auftraggeber der Messung</translation>
    </message>
    <message>
        <source>note</source>
        <translation>Notiz</translation>
    </message>
    <message>
        <source>Note of the survey</source>
        <translation>Notiz zur Messung</translation>
    </message>
    <message>
        <source>&amp;Title</source>
        <translation>&amp;Titel</translation>
    </message>
    <message>
        <source>S&amp;etting</source>
        <translation>A&amp;rt</translation>
    </message>
    <message>
        <source>&amp;Client</source>
        <translation>Auft&amp;raggeber</translation>
    </message>
    <message>
        <source>&amp;Note</source>
        <translation>&amp;Notiz</translation>
    </message>
    <message>
        <source>title</source>
        <translation>Titel</translation>
    </message>
    <message>
        <source>client</source>
        <translation>Auftraggeber</translation>
    </message>
    <message>
        <source>setting</source>
        <translation>Art</translation>
    </message>
    <message>
        <source>&amp;Recordings</source>
        <translation>Auf&amp;zeichnungen</translation>
    </message>
    <message>
        <source>S&amp;paces</source>
        <translation>Rä&amp;ume</translation>
    </message>
    <message>
        <source>C&amp;onditions</source>
        <translation>Bet&amp;riebszustände</translation>
    </message>
    <message>
        <source>Se&amp;nsors</source>
        <translation>Au&amp;fnehmer</translation>
    </message>
    <message>
        <source>Sour&amp;ces</source>
        <translation>&amp;Quellen</translation>
    </message>
    <message>
        <source>No recordings yet: add some, or drop them here.</source>
        <translation>Noch keine Aufzeichnungen: Fügen Sie welche hinzu, oder ziehen Sie sie hierher.</translation>
    </message>
    <message>
        <source>The survey file has faults; mend them before recordings are added.</source>
        <translation>Die Messungsdatei hat Fehler; beheben Sie sie, bevor Aufzeichnungen hinzukommen.</translation>
    </message>
    <message numerus="yes">
        <source>addition of %n recording(s)</source>
        <translation>
            <numerusform>%n Aufzeichnung hinzufügen</numerusform>
            <numerusform>%n Aufzeichnungen hinzufügen</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>becalm::desktop::HelpSheet</name>
    <message>
        <source>On the curves of When</source>
        <translation>Auf den Kurven von „Wann“</translation>
    </message>
    <message>
        <source>look closer, or at more</source>
        <translation>näher ansehen, oder mehr</translation>
    </message>
    <message>
        <source>move along the recording; with Ctrl the arrows move the cursor</source>
        <translation>die Aufnahme entlang; mit Strg bewegen die Pfeile den Zeiger</translation>
    </message>
    <message>
        <source>leave the selected span out</source>
        <translation>die gewählte Spanne auslassen</translation>
    </message>
    <message>
        <source>play as sound, or stop; held down while dragging it moves the curve</source>
        <translation>als Ton abspielen, oder anhalten; beim Ziehen gehalten bewegt sie die Kurve</translation>
    </message>
    <message>
        <source>Comfort evaluation is not a structural, machinery or health assessment. Limits come from the editions cited; local codes, contracts and licensed practice prevail.</source>
        <translation>Eine Beurteilung des Komforts ist keine Beurteilung von Bauwerk, Maschine oder Gesundheit. Die Anhaltswerte und Grenzwerte stammen aus den genannten Ausgaben; örtliche Vorschriften, Verträge und die zugelassene Fachkraft haben Vorrang.</translation>
    </message>
    <message>
        <source>&amp;Back to the survey</source>
        <translation>&amp;Zurück zur Messung</translation>
    </message>
    <message>
        <source>In a figure</source>
        <translation>In einer Abbildung</translation>
    </message>
    <message>
        <source>move the cursor and read the values under it; with Ctrl in large steps</source>
        <translation>Zeiger bewegen und die Werte darunter ablesen; mit Strg in großen Schritten</translation>
    </message>
    <message>
        <source>write the figure to a file</source>
        <translation>Abbildung in eine Datei schreiben</translation>
    </message>
    <message>
        <source>Everywhere</source>
        <translation>Überall</translation>
    </message>
    <message>
        <source>go to the next field; with Shift to the one before</source>
        <translation>zum nächsten Feld; mit Umschalt zum vorigen</translation>
    </message>
    <message>
        <source>press what has the focus</source>
        <translation>drücken, was den Fokus hat</translation>
    </message>
    <message>
        <source>open what is chosen in a list</source>
        <translation>öffnen, was in einer Liste gewählt ist</translation>
    </message>
    <message>
        <source>go to the menus; Alt with an underlined letter opens one</source>
        <translation>zu den Menüs; Alt mit einem unterstrichenen Buchstaben öffnet eines</translation>
    </message>
    <message>
        <source>Keys</source>
        <translation>Tasten</translation>
    </message>
    <message>
        <source>From vibration recordings to a judgement of human comfort that another engineer can check to the last digit.</source>
        <translation>Von Aufzeichnungen der Schwingungen zu einer Beurteilung des Komforts, die eine andere Fachkraft bis zur letzten Stelle nachprüfen kann.</translation>
    </message>
    <message>
        <source>Version %1</source>
        <translation>Version %1</translation>
    </message>
    <message>
        <source>Cautions</source>
        <translation>Vorbehalte</translation>
    </message>
    <message>
        <source>Numbers marked &quot;from memory&quot; were not compared with the publication: compare them with your copy before you sign.</source>
        <translation>Zahlen mit dem Vermerk „from memory“ wurden nicht mit der Veröffentlichung verglichen: Vergleichen Sie sie mit Ihrem Exemplar, bevor Sie unterschreiben.</translation>
    </message>
    <message>
        <source>Where a health action value is exceeded, the employer has duties. A physician or a licensed hygienist decides about people.</source>
        <translation>Wo ein Auslösewert überschritten ist, hat der Arbeitgeber Pflichten. Über Menschen entscheidet ein Arzt oder eine zugelassene Fachkraft für Arbeitshygiene.</translation>
    </message>
    <message>
        <source>An uncertainty (k = 2) is stated where the survey states that of the sensor; the verdict says what it does not cover.</source>
        <translation>Eine Unsicherheit (k = 2) steht dort, wo die Messung die des Aufnehmers nennt; das Urteil sagt, was sie nicht enthält.</translation>
    </message>
    <message>
        <source>Licence</source>
        <translation>Lizenz</translation>
    </message>
    <message>
        <source>Becalm is free software under the GNU General Public License, version 3 or later. It comes without any warranty. You may use it, study it, change it and pass it on under the same terms; the licence lies beside the program&apos;s documents.</source>
        <translation>Becalm ist freie Software unter der GNU General Public License, Version 3 oder später, ohne jede Gewährleistung. Sie dürfen es benutzen, untersuchen, ändern und unter denselben Bedingungen weitergeben; die Lizenz liegt bei den Unterlagen des Programms.</translation>
    </message>
    <message>
        <source>Libraries</source>
        <translation>Bibliotheken</translation>
    </message>
    <message>
        <source>About Becalm</source>
        <translation>Über Becalm</translation>
    </message>
    <message>
        <source>Qt %1 (LGPL 3), poppler, PortAudio, FFTW, Eigen, libsndfile, toml++, nlohmann/json, {fmt}, tl::expected, OpenSSL&apos;s libcrypto, xxHash.</source>
        <translation>Qt %1 (LGPL 3), poppler, PortAudio, FFTW, Eigen, libsndfile, toml++, nlohmann/json, {fmt}, tl::expected, libcrypto von OpenSSL, xxHash.</translation>
    </message>
</context>
<context>
    <name>becalm::desktop::HowMuchPage</name>
    <message>
        <source>Rulers or two conditions</source>
        <translation>Maßstäbe oder zwei Betriebszustände</translation>
    </message>
    <message>
        <source>&amp;Values</source>
        <translation>&amp;Werte</translation>
    </message>
    <message>
        <source>Two &amp;conditions</source>
        <translation>&amp;Zwei Betriebszustände</translation>
    </message>
    <message>
        <source>Which verdicts are shown</source>
        <translation>Welche Urteile gezeigt werden</translation>
    </message>
    <message>
        <source>every verdict of this space</source>
        <translation>jedes Urteil dieses Raums</translation>
    </message>
    <message>
        <source>every space by this criterion</source>
        <translation>jeder Raum nach diesem Kriterium</translation>
    </message>
    <message>
        <source>every verdict of the survey</source>
        <translation>jedes Urteil der Messung</translation>
    </message>
    <message>
        <source>Copy the &amp;table</source>
        <translation>&amp;Tabelle kopieren</translation>
    </message>
    <message>
        <source>Copy the table of verdicts</source>
        <translation>Tabelle der Urteile kopieren</translation>
    </message>
    <message>
        <source>For a spreadsheet: every verdict shown here (Ctrl+Shift+C)</source>
        <translation>Für eine Tabellenkalkulation: jedes hier gezeigte Urteil (Strg+Umschalt+C)</translation>
    </message>
    <message>
        <source>About the verdicts</source>
        <translation>Zu den Urteilen</translation>
    </message>
    <message>
        <source>What the verdict rests on</source>
        <translation>Worauf das Urteil beruht</translation>
    </message>
    <message>
        <source>The survey is being judged…</source>
        <translation>Die Messung wird beurteilt …</translation>
    </message>
    <message>
        <source>There is no verdict yet. Tick a criterion at the right.</source>
        <translation>Es gibt noch kein Urteil. Kreuzen Sie rechts ein Kriterium an.</translation>
    </message>
    <message>
        <source>There is no verdict of this space: nothing was recorded there, or no criterion that is ticked looks at it.</source>
        <translation>Zu diesem Raum gibt es kein Urteil: Dort wurde nichts aufgezeichnet, oder kein angekreuztes Kriterium betrachtet ihn.</translation>
    </message>
</context>
<context>
    <name>becalm::desktop::LookMenu</name>
    <message>
        <source>&amp;View</source>
        <translation>&amp;Ansicht</translation>
    </message>
    <message>
        <source>&amp;Colours</source>
        <translation>&amp;Farben</translation>
    </message>
    <message>
        <source>As the &amp;system</source>
        <translation>Wie das &amp;System</translation>
    </message>
    <message>
        <source>&amp;Light</source>
        <translation>&amp;Hell</translation>
    </message>
    <message>
        <source>&amp;Dark</source>
        <translation>&amp;Dunkel</translation>
    </message>
    <message>
        <source>&amp;High contrast</source>
        <translation>Hoher &amp;Kontrast</translation>
    </message>
    <message>
        <source>&amp;Text size</source>
        <translation>&amp;Textgröße</translation>
    </message>
    <message>
        <source>%1 %</source>
        <translation>%1 %</translation>
    </message>
    <message>
        <source>&amp;Larger</source>
        <translation>&amp;Größer</translation>
    </message>
    <message>
        <source>&amp;Smaller</source>
        <translation>&amp;Kleiner</translation>
    </message>
    <message>
        <source>&amp;As the system</source>
        <translation>&amp;Wie das System</translation>
    </message>
    <message>
        <source>&amp;Language</source>
        <translation>&amp;Sprache</translation>
    </message>
</context>
<context>
    <name>becalm::desktop::MainWindow</name>
    <message>
        <source>Folder of recordings</source>
        <translation>Ordner der Aufzeichnungen</translation>
    </message>
    <message>
        <source>Survey</source>
        <translation>Messung</translation>
    </message>
    <message>
        <source>Surveys (*.toml)</source>
        <translation>Messungen (*.toml)</translation>
    </message>
    <message>
        <source>Folder in which to put the demo</source>
        <translation>Ordner, in den das Beispiel kommt</translation>
    </message>
    <message>
        <source>Values under the cursor</source>
        <translation>Werte unter dem Zeiger</translation>
    </message>
    <message>
        <source>State of the survey file</source>
        <translation>Zustand der Messungsdatei</translation>
    </message>
    <message>
        <source>Time left</source>
        <translation>Verbleibende Zeit</translation>
    </message>
    <message>
        <source>Progress</source>
        <translation>Fortschritt</translation>
    </message>
    <message>
        <source>Stop</source>
        <translation>Anhalten</translation>
    </message>
    <message>
        <source>Stop what is being worked out; nothing is lost</source>
        <translation>Die laufende Rechnung anhalten; nichts geht verloren</translation>
    </message>
    <message>
        <source>Stopped. What is shown is of before; Judge again goes on.</source>
        <translation>Angehalten. Gezeigt wird der Stand von vorher; „Neu beurteilen“ macht weiter.</translation>
    </message>
    <message>
        <source>Judge again</source>
        <translation>Neu beurteilen</translation>
    </message>
    <message numerus="yes">
        <source>%n s left</source>
        <translation>
            <numerusform>noch %n s</numerusform>
            <numerusform>noch %n s</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n min left</source>
        <translation>
            <numerusform>noch %n Minute</numerusform>
            <numerusform>noch %n Minuten</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>and %n more</source>
        <translation>
            <numerusform>und %n weiterer</numerusform>
            <numerusform>und %n weitere</numerusform>
        </translation>
    </message>
    <message>
        <source>The survey file has faults; what is shown is of before. Mend them in an editor, or undo:
%1</source>
        <translation>Die Messungsdatei hat Fehler; gezeigt wird der Stand von vorher. Beheben Sie sie in einem Editor, oder machen Sie rückgängig:
%1</translation>
    </message>
    <message>
        <source>The survey could not be saved: %1. Your changes are kept and will be offered again.</source>
        <translation>Die Messung konnte nicht gesichert werden: %1. Ihre Änderungen sind aufbewahrt und werden wieder angeboten.</translation>
    </message>
    <message>
        <source>Try again</source>
        <translation>Noch einmal versuchen</translation>
    </message>
    <message>
        <source>The survey file was changed elsewhere; the new text is shown. Undo brings yours back.</source>
        <translation>Die Messungsdatei wurde anderswo geändert; gezeigt wird der neue Text. „Rückgängig“ bringt Ihren zurück.</translation>
    </message>
    <message>
        <source>The survey file was changed elsewhere while you had unsaved changes. Nothing is lost: choose which to keep.</source>
        <translation>Die Messungsdatei wurde anderswo geändert, während Sie ungesicherte Änderungen hatten. Nichts ist verloren: Wählen Sie, was bleiben soll.</translation>
    </message>
    <message>
        <source>Take the file&apos;s</source>
        <translation>Die der Datei nehmen</translation>
    </message>
    <message>
        <source>Keep mine</source>
        <translation>Meine behalten</translation>
    </message>
    <message>
        <source>What</source>
        <translation>Was</translation>
    </message>
    <message>
        <source>was measured?</source>
        <translation>wurde gemessen?</translation>
    </message>
    <message>
        <source>Recordings, channels, sensors, spaces, conditions</source>
        <translation>Aufzeichnungen, Kanäle, Aufnehmer, Räume, Betriebszustände</translation>
    </message>
    <message>
        <source>Where</source>
        <translation>Wo</translation>
    </message>
    <message>
        <source>is it worst?</source>
        <translation>ist es am stärksten?</translation>
    </message>
    <message>
        <source>Spaces by deck, storey or vehicle, and the plan</source>
        <translation>Räume nach Deck, Geschoss oder Fahrzeug, und der Plan</translation>
    </message>
    <message>
        <source>How much</source>
        <translation>Wie viel</translation>
    </message>
    <message>
        <source>is it?</source>
        <translation>ist es?</translation>
    </message>
    <message>
        <source>Values among the bands of each criterion</source>
        <translation>Werte in den Stufen jedes Kriteriums</translation>
    </message>
    <message>
        <source>When</source>
        <translation>Wann</translation>
    </message>
    <message>
        <source>does it happen?</source>
        <translation>geschieht es?</translation>
    </message>
    <message>
        <source>Recordings over time; spans to leave out</source>
        <translation>Aufzeichnungen über der Zeit; auszulassende Abschnitte</translation>
    </message>
    <message>
        <source>Why</source>
        <translation>Warum</translation>
    </message>
    <message>
        <source>does it shake?</source>
        <translation>schwingt es?</translation>
    </message>
    <message>
        <source>Spectra, sources, what if</source>
        <translation>Spektren, Quellen, was wäre wenn</translation>
    </message>
    <message>
        <source>Who</source>
        <translation>Wer</translation>
    </message>
    <message>
        <source>is exposed?</source>
        <translation>ist ausgesetzt?</translation>
    </message>
    <message>
        <source>Daily exposures of persons</source>
        <translation>Tages-Schwingungsbelastungen von Personen</translation>
    </message>
    <message>
        <source>&amp;Survey</source>
        <translation>&amp;Messung</translation>
    </message>
    <message>
        <source>Open &amp;folder…</source>
        <translation>&amp;Ordner öffnen …</translation>
    </message>
    <message>
        <source>&amp;Open survey…</source>
        <translation>&amp;Messung öffnen …</translation>
    </message>
    <message>
        <source>&amp;Demo…</source>
        <translation>&amp;Beispiel …</translation>
    </message>
    <message>
        <source>&amp;Save now</source>
        <translation>Jetzt &amp;sichern</translation>
    </message>
    <message>
        <source>Write the judgement as &amp;JSON…</source>
        <translation>Beurteilung als &amp;JSON schreiben …</translation>
    </message>
    <message>
        <source>&amp;Close survey</source>
        <translation>Messung sch&amp;ließen</translation>
    </message>
    <message>
        <source>&amp;Quit</source>
        <translation>B&amp;eenden</translation>
    </message>
    <message>
        <source>&amp;Edit</source>
        <translation>&amp;Bearbeiten</translation>
    </message>
    <message>
        <source>Undo</source>
        <translation>Rückgängig</translation>
    </message>
    <message>
        <source>Redo</source>
        <translation>Wiederholen</translation>
    </message>
    <message>
        <source>&amp;Help</source>
        <translation>&amp;Hilfe</translation>
    </message>
    <message>
        <source>&amp;Keys</source>
        <translation>&amp;Tasten</translation>
    </message>
    <message>
        <source>&amp;About Becalm</source>
        <translation>&amp;Über Becalm</translation>
    </message>
    <message>
        <source>Questions</source>
        <translation>Fragen</translation>
    </message>
    <message>
        <source>%1 is not there; name a survey, a folder or a recording</source>
        <translation>%1 ist nicht da; nennen Sie eine Messung, einen Ordner oder eine Aufzeichnung</translation>
    </message>
    <message>
        <source>The last time, changes to this survey could not be saved. They were kept.</source>
        <translation>Beim letzten Mal konnten Änderungen an dieser Messung nicht gesichert werden. Sie wurden aufbewahrt.</translation>
    </message>
    <message>
        <source>Take them</source>
        <translation>Übernehmen</translation>
    </message>
    <message>
        <source>Drop them</source>
        <translation>Verwerfen</translation>
    </message>
    <message>
        <source>This survey was begun from the recordings in the folder. Look at each guess below, then ask where it is worst.</source>
        <translation>Diese Messung wurde aus den Aufzeichnungen im Ordner begonnen. Sehen Sie unten jede Vermutung an, dann fragen Sie, wo es am stärksten ist.</translation>
    </message>
    <message>
        <source>Becalm</source>
        <translation>Becalm</translation>
    </message>
    <message>
        <source>%1 – Becalm</source>
        <translation>%1 – Becalm</translation>
    </message>
    <message>
        <source>changed elsewhere too</source>
        <translation>auch anderswo geändert</translation>
    </message>
    <message>
        <source>not saved yet</source>
        <translation>noch nicht gespeichert</translation>
    </message>
    <message>
        <source>saved</source>
        <translation>gespeichert</translation>
    </message>
    <message>
        <source>There is no judgement yet</source>
        <translation>Es gibt noch keine Beurteilung</translation>
    </message>
    <message>
        <source>Write the judgement to</source>
        <translation>Beurteilung schreiben nach</translation>
    </message>
    <message>
        <source>Written to %1</source>
        <translation>Geschrieben nach %1</translation>
    </message>
    <message>
        <source>Judge a&amp;gain</source>
        <translation>&amp;Neu beurteilen</translation>
    </message>
    <message>
        <source>Write the judgement as CS&amp;V…</source>
        <translation>Beurteilung als CS&amp;V schreiben …</translation>
    </message>
    <message>
        <source>The survey could not be saved: %1. Your changes could not be kept elsewhere either: they are in this window alone. Leave it open, make room or give back the folder, and try again.</source>
        <translation>Die Messung konnte nicht gesichert werden: %1. Ihre Änderungen konnten auch anderswo nicht aufbewahrt werden: Sie stehen nur in diesem Fenster. Lassen Sie es offen, schaffen Sie Platz oder geben Sie den Ordner frei, und versuchen Sie es noch einmal.</translation>
    </message>
    <message>
        <source>Recordings that cannot be read are not judged; the rest is. Bring them back or take them out of the survey, then judge again:</source>
        <translation>Nicht lesbare Aufzeichnungen werden nicht beurteilt; das Übrige ja. Bringen Sie sie zurück oder nehmen Sie sie aus der Messung, dann beurteilen Sie neu:</translation>
    </message>
    <message>
        <source>&amp;Figure</source>
        <translation>Abbil&amp;dung</translation>
    </message>
    <message>
        <source>This page shows no figure now</source>
        <translation>Diese Seite zeigt jetzt keine Abbildung</translation>
    </message>
    <message>
        <source>Write a &amp;report…</source>
        <translation>Beri&amp;cht schreiben …</translation>
    </message>
    <message>
        <source>Open a survey first</source>
        <translation>Öffnen Sie zuerst eine Messung</translation>
    </message>
    <message>
        <source>The survey has changed here and elsewhere: choose which text counts, then write the report</source>
        <translation>Die Messung wurde hier und anderswo geändert: Wählen Sie, welcher Text gilt, und schreiben Sie dann den Bericht</translation>
    </message>
    <message>
        <source>The report was not written:</source>
        <translation>Der Bericht wurde nicht geschrieben:</translation>
    </message>
    <message>
        <source>Report written to %1</source>
        <translation>Bericht geschrieben: %1</translation>
    </message>
    <message>
        <source>A recording could not be read; the report says which and why.</source>
        <translation>Eine Aufzeichnung ließ sich nicht lesen; der Bericht sagt, welche und warum.</translation>
    </message>
    <message>
        <source>Nothing could be judged; the report says why.</source>
        <translation>Nichts ließ sich beurteilen; der Bericht sagt, warum.</translation>
    </message>
    <message>
        <source>Open</source>
        <translation>Öffnen</translation>
    </message>
</context>
<context>
    <name>becalm::desktop::Notices</name>
    <message>
        <source>Notices</source>
        <translation>Hinweise</translation>
    </message>
    <message>
        <source>Put this notice away</source>
        <translation>Diesen Hinweis weglegen</translation>
    </message>
</context>
<context>
    <name>becalm::desktop::PeoplePage</name>
    <message>
        <source>Tasks of persons</source>
        <translation>Aufgaben von Personen</translation>
    </message>
    <message>
        <source>Ta&amp;ke out the chosen tasks</source>
        <translation>Gewählte Aufgaben he&amp;rausnehmen</translation>
    </message>
    <message>
        <source>State of the results</source>
        <translation>Zustand der Ergebnisse</translation>
    </message>
    <message>
        <source>Judged days</source>
        <translation>Beurteilte Tage</translation>
    </message>
    <message>
        <source>Person</source>
        <translation>Person</translation>
    </message>
    <message>
        <source>Day</source>
        <translation>Tag</translation>
    </message>
    <message>
        <source>Quantity</source>
        <translation>Größe</translation>
    </message>
    <message>
        <source>Value</source>
        <translation>Wert</translation>
    </message>
    <message>
        <source>Verdict</source>
        <translation>Urteil</translation>
    </message>
    <message>
        <source>How long this work may last</source>
        <translation>Wie lange diese Arbeit dauern darf</translation>
    </message>
    <message>
        <source>Duty to act</source>
        <translation>Pflicht zu handeln</translation>
    </message>
    <message>
        <source>A comfort evaluation is not a health assessment. These are the exposures of what was measured, by the editions cited; national law and the judgement of occupational health practice prevail.</source>
        <translation>Eine Beurteilung des Komforts ist keine gesundheitliche Beurteilung. Dies sind die Belastungen aus dem Gemessenen, nach den genannten Ausgaben; nationales Recht und das Urteil des Arbeitsschutzes haben Vorrang.</translation>
    </message>
    <message>
        <source>Caution about health</source>
        <translation>Vorbehalt zur Gesundheit</translation>
    </message>
    <message>
        <source>&amp;Person or job</source>
        <translation>&amp;Person oder Tätigkeit</translation>
    </message>
    <message>
        <source>Person of the new task</source>
        <translation>Person der neuen Aufgabe</translation>
    </message>
    <message>
        <source>&amp;Day</source>
        <translation>&amp;Tag</translation>
    </message>
    <message>
        <source>Day of the new task</source>
        <translation>Tag der neuen Aufgabe</translation>
    </message>
    <message>
        <source>every day</source>
        <translation>jeden Tag</translation>
    </message>
    <message>
        <source>&amp;Where</source>
        <translation>&amp;Wo</translation>
    </message>
    <message>
        <source>Space of the new task</source>
        <translation>Raum der neuen Aufgabe</translation>
    </message>
    <message>
        <source>Posi&amp;tion</source>
        <translation>Ste&amp;lle</translation>
    </message>
    <message>
        <source>Position of the new task</source>
        <translation>Stelle der neuen Aufgabe</translation>
    </message>
    <message>
        <source>&amp;Condition</source>
        <translation>Bet&amp;riebszustand</translation>
    </message>
    <message>
        <source>Condition of the new task</source>
        <translation>Betriebszustand der neuen Aufgabe</translation>
    </message>
    <message>
        <source>&amp;Hours</source>
        <translation>&amp;Stunden</translation>
    </message>
    <message>
        <source>Hours of the new task</source>
        <translation>Stunden der neuen Aufgabe</translation>
    </message>
    <message>
        <source>&amp;Add task</source>
        <translation>Aufgabe &amp;hinzufügen</translation>
    </message>
    <message>
        <source>Publications for daily exposures</source>
        <translation>Veröffentlichungen zu Tages-Schwingungsbelastungen</translation>
    </message>
    <message>
        <source>&amp;Judge days by it</source>
        <translation>Tage danach &amp;beurteilen</translation>
    </message>
    <message>
        <source>criterion of daily exposure</source>
        <translation>Kriterium der Tagesbelastung</translation>
    </message>
    <message>
        <source>A task needs a person: type a name or a job.</source>
        <translation>Eine Aufgabe braucht eine Person: Geben Sie einen Namen oder eine Tätigkeit ein.</translation>
    </message>
    <message>
        <source>A task needs its hours: type a number, such as 4,5.</source>
        <translation>Eine Aufgabe braucht ihre Stunden: Geben Sie eine Zahl ein, etwa 4,5.</translation>
    </message>
    <message>
        <source>No criterion of the survey judges a day at: %1.</source>
        <translation>Kein Kriterium der Messung beurteilt einen Tag an: %1.</translation>
    </message>
    <message>
        <source>Nobody&apos;s day is told yet: say above who is where for how many hours.</source>
        <translation>Noch ist niemandes Tag beschrieben: Sagen Sie oben, wer wo wie viele Stunden ist.</translation>
    </message>
    <message>
        <source>Being judged; what stands below is of before.</source>
        <translation>Wird beurteilt; was unten steht, ist von vorher.</translation>
    </message>
    <message>
        <source>No day is judged.</source>
        <translation>Kein Tag ist beurteilt.</translation>
    </message>
</context>
<context>
    <name>becalm::desktop::PlanPanel</name>
    <message>
        <source>Plan that is seen</source>
        <translation>Plan, der zu sehen ist</translation>
    </message>
    <message>
        <source>Page of the plan&apos;s PDF</source>
        <translation>Seite im PDF des Plans</translation>
    </message>
    <message>
        <source>page </source>
        <translation>Seite </translation>
    </message>
    <message>
        <source>&amp;Add a plan picture…</source>
        <translation>&amp;Planbild hinzufügen …</translation>
    </message>
    <message>
        <source>A picture (PNG, JPEG), a drawing (SVG) or a page of a PDF; it stays where it is</source>
        <translation>Ein Bild (PNG, JPEG), eine Zeichnung (SVG) oder eine Seite eines PDF; es bleibt, wo es ist</translation>
    </message>
    <message>
        <source>About the plan</source>
        <translation>Zum Plan</translation>
    </message>
    <message>
        <source>&amp;Place it on the plan</source>
        <translation>Auf den Plan &amp;setzen</translation>
    </message>
    <message>
        <source>Puts the chosen space in the middle of the plan; drag it to its place, or move it with Alt and the arrows</source>
        <translation>Setzt den gewählten Raum in die Mitte des Plans; ziehen Sie ihn an seinen Ort, oder bewegen Sie ihn mit Alt und den Pfeiltasten</translation>
    </message>
    <message>
        <source>Place the chosen space on the plan</source>
        <translation>Den gewählten Raum auf den Plan setzen</translation>
    </message>
    <message>
        <source>&amp;Take it off</source>
        <translation>&amp;Wegnehmen</translation>
    </message>
    <message>
        <source>Take the chosen space off the plan</source>
        <translation>Den gewählten Raum vom Plan nehmen</translation>
    </message>
    <message>
        <source>Takes the chosen space off its plan</source>
        <translation>Nimmt den gewählten Raum von seinem Plan</translation>
    </message>
    <message>
        <source>page of a plan</source>
        <translation>Seite eines Plans</translation>
    </message>
    <message>
        <source>Plan picture</source>
        <translation>Planbild</translation>
    </message>
    <message>
        <source>Plans (*.png *.jpg *.jpeg *.svg *.pdf)</source>
        <translation>Pläne (*.png *.jpg *.jpeg *.svg *.pdf)</translation>
    </message>
    <message>
        <source>no verdict</source>
        <translation>kein Urteil</translation>
    </message>
    <message>
        <source> of %1</source>
        <translation> von %1</translation>
    </message>
    <message>
        <source>There is no plan yet. Add a picture of a deck, a storey or a vehicle, then drag the spaces from the list on to it; each shows how bad it is there.</source>
        <translation>Es gibt noch keinen Plan. Fügen Sie ein Bild eines Decks, eines Geschosses oder eines Fahrzeugs hinzu, dann ziehen Sie die Räume aus der Liste darauf; jeder zeigt, wie schlimm es dort ist.</translation>
    </message>
    <message>
        <source>Reading the picture…</source>
        <translation>Das Bild wird gelesen …</translation>
    </message>
    <message numerus="yes">
        <source>%n space(s) not on a plan yet: drag them here from the list.</source>
        <translation>
            <numerusform>%n Raum ist noch auf keinem Plan: Ziehen Sie ihn aus der Liste hierher.</numerusform>
            <numerusform>%n Räume sind noch auf keinem Plan: Ziehen Sie sie aus der Liste hierher.</numerusform>
        </translation>
    </message>
    <message>
        <source>The picture is larger than shown here; it was read scaled down.</source>
        <translation>Das Bild ist größer als hier gezeigt; es wurde verkleinert gelesen.</translation>
    </message>
    <message>
        <source>add a plan</source>
        <translation>Plan hinzufügen</translation>
    </message>
    <message>
        <source>place a space</source>
        <translation>Raum setzen</translation>
    </message>
    <message>
        <source>take a space off its plan</source>
        <translation>Raum vom Plan nehmen</translation>
    </message>
</context>
<context>
    <name>becalm::desktop::PlanPicture</name>
    <message>
        <source>The plan %1 cannot be shown: %2; %3</source>
        <translation>Der Plan %1 lässt sich nicht zeigen: %2; %3</translation>
    </message>
    <message>
        <source>its %1 × %2 px are too many</source>
        <translation>seine %1 × %2 Bildpunkte sind zu viele</translation>
    </message>
    <message>
        <source>save it with fewer pixels, or as a PDF</source>
        <translation>speichern Sie ihn mit weniger Bildpunkten, oder als PDF</translation>
    </message>
    <message>
        <source>save it anew as PNG, SVG or PDF</source>
        <translation>speichern Sie ihn neu als PNG, SVG oder PDF</translation>
    </message>
    <message>
        <source>it is no drawing of a sensible size</source>
        <translation>er ist keine Zeichnung von brauchbarer Größe</translation>
    </message>
    <message>
        <source>save it as a PNG</source>
        <translation>speichern Sie ihn als PNG</translation>
    </message>
    <message>
        <source>it is no SVG drawing</source>
        <translation>er ist keine SVG-Zeichnung</translation>
    </message>
    <message>
        <source>save it anew as SVG or PNG</source>
        <translation>speichern Sie ihn neu als SVG oder PNG</translation>
    </message>
    <message>
        <source>it has no size</source>
        <translation>er hat keine Größe</translation>
    </message>
    <message>
        <source>give it a viewBox</source>
        <translation>geben Sie ihm eine viewBox</translation>
    </message>
    <message>
        <source>it is no PDF</source>
        <translation>er ist kein PDF</translation>
    </message>
    <message>
        <source>save it anew as PDF or PNG</source>
        <translation>speichern Sie ihn neu als PDF oder PNG</translation>
    </message>
    <message>
        <source>it asks for a password</source>
        <translation>er verlangt ein Kennwort</translation>
    </message>
    <message>
        <source>save it without one, or as a PNG</source>
        <translation>speichern Sie ihn ohne, oder als PNG</translation>
    </message>
    <message>
        <source>The plan %1 has no page %2; it has %3, so choose one of them</source>
        <translation>Der Plan %1 hat keine Seite %2; er hat %3, wählen Sie eine davon</translation>
    </message>
    <message>
        <source>its page has no size</source>
        <translation>seine Seite hat keine Größe</translation>
    </message>
    <message>
        <source>its page cannot be painted</source>
        <translation>seine Seite lässt sich nicht zeichnen</translation>
    </message>
    <message>
        <source>there is no such file</source>
        <translation>es gibt keine solche Datei</translation>
    </message>
    <message>
        <source>put it there, or name another in its [[plan]]</source>
        <translation>legen Sie sie dorthin, oder nennen Sie eine andere in ihrem [[plan]]</translation>
    </message>
    <message>
        <source>it is no file that may be read</source>
        <translation>es ist keine Datei, die gelesen werden darf</translation>
    </message>
    <message>
        <source>see to its permissions</source>
        <translation>prüfen Sie ihre Zugriffsrechte</translation>
    </message>
</context>
<context>
    <name>becalm::desktop::PlanView</name>
    <message>
        <source>Plan with the spaces</source>
        <translation>Plan mit den Räumen</translation>
    </message>
</context>
<context>
    <name>becalm::desktop::ReportDialog</name>
    <message>
        <source>Report</source>
        <translation>Bericht</translation>
    </message>
    <message>
        <source>The judgement as a document with figures, causes and cures, uncertainty, and an appendix from which every value can be computed again. The survey is judged anew from its recordings.</source>
        <translation>Die Beurteilung als Dokument mit Abbildungen, Ursachen und Abhilfen, Unsicherheit und einem Anhang, aus dem sich jeder Wert nachrechnen lässt. Die Messung wird dafür aus ihren Aufzeichnungen neu beurteilt.</translation>
    </message>
    <message>
        <source>&amp;File</source>
        <translation>&amp;Datei</translation>
    </message>
    <message>
        <source>File of the report</source>
        <translation>Datei des Berichts</translation>
    </message>
    <message>
        <source>Choose…</source>
        <translation>Wählen …</translation>
    </message>
    <message>
        <source>Choose the file of the report</source>
        <translation>Datei des Berichts wählen</translation>
    </message>
    <message>
        <source>Write the report to</source>
        <translation>Bericht schreiben nach</translation>
    </message>
    <message>
        <source>Page for a browser (*.html)</source>
        <translation>Seite für den Browser (*.html)</translation>
    </message>
    <message>
        <source>Pages to print (*.pdf)</source>
        <translation>Seiten zum Drucken (*.pdf)</translation>
    </message>
    <message>
        <source>A name that ends with .pdf makes a PDF, any other one HTML file that stands by itself</source>
        <translation>Ein Name mit der Endung .pdf ergibt ein PDF, jeder andere eine HTML-Datei, die für sich allein steht</translation>
    </message>
    <message>
        <source>Language of the report</source>
        <translation>Sprache des Berichts</translation>
    </message>
    <message>
        <source>La&amp;nguage</source>
        <translation>S&amp;prache</translation>
    </message>
    <message>
        <source>&amp;Letterhead</source>
        <translation>&amp;Briefkopf</translation>
    </message>
    <message>
        <source>Folder of the letterhead</source>
        <translation>Ordner des Briefkopfs</translation>
    </message>
    <message>
        <source>Choose the folder of the letterhead</source>
        <translation>Ordner des Briefkopfs wählen</translation>
    </message>
    <message>
        <source>A folder with logo.svg or logo.png, header.txt and closing.txt; may be empty</source>
        <translation>Ein Ordner mit logo.svg oder logo.png, header.txt und closing.txt; darf leer bleiben</translation>
    </message>
    <message>
        <source>none</source>
        <translation>keiner</translation>
    </message>
    <message>
        <source>&amp;Date</source>
        <translation>Da&amp;tum</translation>
    </message>
    <message>
        <source>Date of the report</source>
        <translation>Datum des Berichts</translation>
    </message>
    <message>
        <source>As 2026-03-14; empty: the day of the latest recording</source>
        <translation>Wie 2026-03-14; leer: der Tag der spätesten Aufzeichnung</translation>
    </message>
    <message>
        <source>that of the latest recording</source>
        <translation>das der spätesten Aufzeichnung</translation>
    </message>
    <message>
        <source>&amp;Write</source>
        <translation>&amp;Schreiben</translation>
    </message>
    <message>
        <source>&amp;Cancel</source>
        <translation>&amp;Abbrechen</translation>
    </message>
</context>
<context>
    <name>becalm::desktop::RulersColumn</name>
    <message>
        <source>The %1 worst of %2 are shown; the table has them all.</source>
        <translation>Die %1 ungünstigsten von %2 sind gezeigt; die Tabelle hat alle.</translation>
    </message>
</context>
<context>
    <name>becalm::desktop::SourcesPanel</name>
    <message>
        <source>r/min</source>
        <translation>1/min</translation>
    </message>
    <message>
        <source>Sources and their speeds</source>
        <translation>Quellen und ihre Drehzahlen</translation>
    </message>
    <message>
        <source>Source</source>
        <translation>Quelle</translation>
    </message>
    <message>
        <source>Kind</source>
        <translation>Art</translation>
    </message>
    <message>
        <source>Speed tried</source>
        <translation>Probierte Drehzahl</translation>
    </message>
    <message>
        <source>In the survey</source>
        <translation>In der Messung</translation>
    </message>
    <message>
        <source>Lines</source>
        <translation>Linien</translation>
    </message>
    <message>
        <source>What trying a speed does</source>
        <translation>Was das Probieren einer Drehzahl bewirkt</translation>
    </message>
    <message>
        <source>Put &amp;back</source>
        <translation>&amp;Zurücksetzen</translation>
    </message>
    <message>
        <source>Show the speeds as the survey has them</source>
        <translation>Die Drehzahlen zeigen, wie die Messung sie hat</translation>
    </message>
    <message>
        <source>&amp;Write to the survey</source>
        <translation>In die Messung &amp;schreiben</translation>
    </message>
    <message>
        <source>Make the speeds that are tried those of the survey; Undo takes it back</source>
        <translation>Die probierten Drehzahlen zu denen der Messung machen; „Rückgängig“ nimmt es zurück</translation>
    </message>
    <message>
        <source>%1: %2</source>
        <translation>%1: %2</translation>
    </message>
    <message>
        <source>%1, of the condition %2</source>
        <translation>%1, vom Betriebszustand %2</translation>
    </message>
    <message>
        <source>%1 Hz</source>
        <translation>%1 Hz</translation>
    </message>
    <message>
        <source>The survey names no sources; add them on the page What, and every component that fits is named.</source>
        <translation>Die Messung nennt keine Quellen; fügen Sie sie auf der Seite Was hinzu, und jeder passende Anteil wird benannt.</translation>
    </message>
    <message>
        <source>Lines lie where the speeds tried would put them. Nothing is judged by them: write them to the survey to have the components named anew.</source>
        <translation>Linien liegen, wo die probierten Drehzahlen sie hinlegen. Nichts wird danach beurteilt: Schreiben Sie sie in die Messung, damit die Anteile neu benannt werden.</translation>
    </message>
    <message>
        <source>Type a speed, or draw a line of the spectrum to where it belongs: all lines of the source follow.</source>
        <translation>Geben Sie eine Drehzahl ein, oder ziehen Sie eine Linie des Spektrums dorthin, wo sie hingehört: Alle Linien der Quelle folgen.</translation>
    </message>
    <message>
        <source>“%1” is no speed of %2; give a number above 0, such as 166,5</source>
        <translation>„%1“ ist keine Drehzahl von %2; geben Sie eine Zahl über 0 an, etwa 166,5</translation>
    </message>
</context>
<context>
    <name>becalm::desktop::SpaceGroups</name>
    <message>
        <source>group</source>
        <translation>Gruppe</translation>
    </message>
    <message>
        <source>space</source>
        <translation>Raum</translation>
    </message>
    <message>
        <source>use</source>
        <translation>Nutzung</translation>
    </message>
    <message>
        <source>position</source>
        <translation>Stelle</translation>
    </message>
    <message>
        <source>condition</source>
        <translation>Betriebszustand</translation>
    </message>
    <message>
        <source>criterion</source>
        <translation>Kriterium</translation>
    </message>
    <message>
        <source>value</source>
        <translation>Wert</translation>
    </message>
    <message>
        <source>± (k = 2)</source>
        <translation>± (k = 2)</translation>
    </message>
    <message>
        <source>unit</source>
        <translation>Einheit</translation>
    </message>
    <message>
        <source>band</source>
        <translation>Stufe</translation>
    </message>
    <message>
        <source>place</source>
        <translation>Rang</translation>
    </message>
    <message>
        <source>exceeded</source>
        <translation>überschritten</translation>
    </message>
    <message>
        <source>distance</source>
        <translation>Abstand</translation>
    </message>
    <message>
        <source>why it cannot be judged</source>
        <translation>warum nicht beurteilbar</translation>
    </message>
    <message>
        <source>yes</source>
        <translation>ja</translation>
    </message>
    <message>
        <source>no</source>
        <translation>nein</translation>
    </message>
</context>
<context>
    <name>becalm::desktop::SpaceList</name>
    <message>
        <source>Search</source>
        <translation>Suchen</translation>
    </message>
    <message>
        <source>Search the spaces</source>
        <translation>Räume durchsuchen</translation>
    </message>
    <message>
        <source>Use of the spaces shown</source>
        <translation>Nutzung der gezeigten Räume</translation>
    </message>
    <message>
        <source>Verdicts shown</source>
        <translation>Gezeigte Urteile</translation>
    </message>
    <message>
        <source>every verdict</source>
        <translation>jedes Urteil</translation>
    </message>
    <message>
        <source>exceeded</source>
        <translation>überschritten</translation>
    </message>
    <message>
        <source>cannot be judged</source>
        <translation>nicht beurteilbar</translation>
    </message>
    <message>
        <source>near a limit (within the uncertainty)</source>
        <translation>nahe einem Grenzwert (innerhalb der Unsicherheit)</translation>
    </message>
    <message>
        <source>Spaces, the worst first</source>
        <translation>Räume, der ungünstigste zuerst</translation>
    </message>
    <message>
        <source>How many spaces</source>
        <translation>Wie viele Räume</translation>
    </message>
    <message>
        <source>Why it cannot be judged</source>
        <translation>Warum nicht beurteilbar</translation>
    </message>
    <message>
        <source>any use</source>
        <translation>jede Nutzung</translation>
    </message>
    <message>
        <source>No space passes the filters.</source>
        <translation>Kein Raum erfüllt die Auswahl.</translation>
    </message>
    <message>
        <source>Copy the table</source>
        <translation>Tabelle kopieren</translation>
    </message>
    <message>
        <source>How much is it?</source>
        <translation>Wie viel ist es?</translation>
    </message>
    <message>
        <source>Worst first</source>
        <translation>Ungünstigste zuerst</translation>
    </message>
    <message>
        <source>Spaces: %1; exceeded: %2; with a verdict that cannot be reached: %3</source>
        <translation>Räume: %1; überschritten: %2; mit einem Urteil, das sich nicht fällen lässt: %3</translation>
    </message>
</context>
<context>
    <name>becalm::desktop::SpaceTreeModel</name>
    <message>
        <source>no group</source>
        <translation>ohne Gruppe</translation>
    </message>
    <message>
        <source>%1 (%2)</source>
        <translation>%1 (%2)</translation>
    </message>
    <message>
        <source>no verdict</source>
        <translation>kein Urteil</translation>
    </message>
    <message>
        <source>band %1 of %2</source>
        <translation>Stufe %1 von %2</translation>
    </message>
    <message>
        <source>Space</source>
        <translation>Raum</translation>
    </message>
    <message>
        <source>Use</source>
        <translation>Nutzung</translation>
    </message>
    <message>
        <source>Worst value</source>
        <translation>Ungünstigster Wert</translation>
    </message>
    <message>
        <source>Band</source>
        <translation>Stufe</translation>
    </message>
    <message>
        <source>To the limit</source>
        <translation>Bis zum Grenzwert</translation>
    </message>
    <message>
        <source>Criterion</source>
        <translation>Kriterium</translation>
    </message>
    <message>
        <source>Condition</source>
        <translation>Betriebszustand</translation>
    </message>
    <message numerus="yes">
        <source>; %n more cannot be judged</source>
        <translation>
            <numerusform>; %n weiteres nicht beurteilbar</numerusform>
            <numerusform>; %n weitere nicht beurteilbar</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>becalm::desktop::SpanEditor</name>
    <message>
        <source>Span from, seconds</source>
        <translation>Abschnitt von, Sekunden</translation>
    </message>
    <message>
        <source>Span to, seconds</source>
        <translation>Abschnitt bis, Sekunden</translation>
    </message>
    <message>
        <source>Seconds from the first sample</source>
        <translation>Sekunden ab dem ersten Abtastwert</translation>
    </message>
    <message>
        <source>Reason, or name of the event</source>
        <translation>Grund, oder Name des Ereignisses</translation>
    </message>
    <message>
        <source>door slam</source>
        <translation>Tür zugeschlagen</translation>
    </message>
    <message>
        <source>footsteps beside the sensor</source>
        <translation>Schritte neben dem Aufnehmer</translation>
    </message>
    <message>
        <source>sensor knocked</source>
        <translation>Aufnehmer angestoßen</translation>
    </message>
    <message>
        <source>cable moved</source>
        <translation>Kabel bewegt</translation>
    </message>
    <message>
        <source>sensor not yet in place</source>
        <translation>Aufnehmer noch nicht an seinem Ort</translation>
    </message>
    <message>
        <source>machine not in service</source>
        <translation>Maschine nicht in Betrieb</translation>
    </message>
    <message>
        <source>work nearby</source>
        <translation>Arbeiten in der Nähe</translation>
    </message>
    <message>
        <source>Why is it left out?</source>
        <translation>Warum wird er ausgelassen?</translation>
    </message>
    <message>
        <source>Leave out</source>
        <translation>Auslassen</translation>
    </message>
    <message>
        <source>Every second that the span touches is left out of the judgement</source>
        <translation>Jede Sekunde, die der Abschnitt berührt, bleibt aus der Beurteilung</translation>
    </message>
    <message>
        <source>Is an event</source>
        <translation>Ist ein Ereignis</translation>
    </message>
    <message>
        <source>Where a recording lists events, they alone are judged, one by one</source>
        <translation>Nennt eine Aufzeichnung Ereignisse, werden nur sie beurteilt, eines nach dem anderen</translation>
    </message>
    <message>
        <source>Never mind</source>
        <translation>Doch nicht</translation>
    </message>
    <message>
        <source>s to</source>
        <translation>s bis</translation>
    </message>
    <message>
        <source>s</source>
        <translation>s</translation>
    </message>
</context>
<context>
    <name>becalm::desktop::SpanModel</name>
    <message>
        <source>event</source>
        <translation>Ereignis</translation>
    </message>
    <message>
        <source>left out</source>
        <translation>ausgelassen</translation>
    </message>
    <message>
        <source>What</source>
        <translation>Was</translation>
    </message>
    <message>
        <source>From, s</source>
        <translation>Von, s</translation>
    </message>
    <message>
        <source>To, s</source>
        <translation>Bis, s</translation>
    </message>
    <message>
        <source>Reason</source>
        <translation>Grund</translation>
    </message>
</context>
<context>
    <name>becalm::desktop::SpectrumControls</name>
    <message>
        <source>A&amp;xis</source>
        <translation>A&amp;chse</translation>
    </message>
    <message>
        <source>Axis of the spectrum</source>
        <translation>Achse des Spektrums</translation>
    </message>
    <message>
        <source>Motion shown</source>
        <translation>Gezeigte Bewegungsgröße</translation>
    </message>
    <message>
        <source>Density or amplitude</source>
        <translation>Dichte oder Amplitude</translation>
    </message>
    <message>
        <source>in</source>
        <translation>in</translation>
    </message>
    <message>
        <source>Unit</source>
        <translation>Einheit</translation>
    </message>
    <message>
        <source>over</source>
        <translation>über</translation>
    </message>
    <message>
        <source>Frequency axis</source>
        <translation>Frequenzachse</translation>
    </message>
    <message>
        <source>acceleration</source>
        <translation>Beschleunigung</translation>
    </message>
    <message>
        <source>velocity</source>
        <translation>Schwinggeschwindigkeit</translation>
    </message>
    <message>
        <source>displacement</source>
        <translation>Schwingweg</translation>
    </message>
    <message>
        <source>density</source>
        <translation>Dichte</translation>
    </message>
    <message>
        <source>amplitude, r.m.s.</source>
        <translation>Amplitude, Effektivwert</translation>
    </message>
    <message>
        <source>logarithmic Hz</source>
        <translation>logarithmisch, Hz</translation>
    </message>
    <message>
        <source>linear Hz</source>
        <translation>linear, Hz</translation>
    </message>
</context>
<context>
    <name>becalm::desktop::StartPage</name>
    <message>
        <source>What did you measure?</source>
        <translation>Was haben Sie gemessen?</translation>
    </message>
    <message>
        <source>Drop a folder of recordings, recordings or a survey on this window, or begin here. A folder without a survey gets one, with guesses that say they are guesses.</source>
        <translation>Ziehen Sie einen Ordner mit Aufzeichnungen, Aufzeichnungen oder eine Messung auf dieses Fenster, oder beginnen Sie hier. Ein Ordner ohne Messung bekommt eine, mit Vermutungen, die sich als solche ausweisen.</translation>
    </message>
    <message>
        <source>Open a &amp;folder of recordings…</source>
        <translation>&amp;Ordner mit Aufzeichnungen öffnen …</translation>
    </message>
    <message>
        <source>Uses the survey in it, or begins one</source>
        <translation>Nimmt die Messung darin, oder beginnt eine</translation>
    </message>
    <message>
        <source>Open a &amp;survey…</source>
        <translation>&amp;Messung öffnen …</translation>
    </message>
    <message>
        <source>A survey.toml that you have</source>
        <translation>Eine survey.toml, die Sie haben</translation>
    </message>
    <message>
        <source>Look at the &amp;demo</source>
        <translation>&amp;Beispiel ansehen</translation>
    </message>
    <message>
        <source>Writes an invented ferry and its terminal into a folder that you choose</source>
        <translation>Schreibt eine erfundene Fähre und ihr Abfertigungsgebäude in einen Ordner Ihrer Wahl</translation>
    </message>
    <message>
        <source>&amp;Go on with</source>
        <translation>&amp;Weiter mit</translation>
    </message>
    <message>
        <source>Surveys that were open</source>
        <translation>Messungen, die offen waren</translation>
    </message>
    <message>
        <source>%1 (not there now)</source>
        <translation>%1 (jetzt nicht da)</translation>
    </message>
</context>
<context>
    <name>becalm::desktop::SubjectLine</name>
    <message>
        <source>&amp;In</source>
        <translation>&amp;In</translation>
    </message>
    <message>
        <source>Space or person that is looked at</source>
        <translation>Raum oder Person, die betrachtet wird</translation>
    </message>
    <message>
        <source>on the</source>
        <translation>an der Stelle</translation>
    </message>
    <message>
        <source>Position that is looked at</source>
        <translation>Stelle, die betrachtet wird</translation>
    </message>
    <message>
        <source>during</source>
        <translation>bei</translation>
    </message>
    <message>
        <source>Condition that is looked at</source>
        <translation>Betriebszustand, der betrachtet wird</translation>
    </message>
    <message>
        <source>judged by</source>
        <translation>beurteilt nach</translation>
    </message>
    <message>
        <source>Criterion that is looked at</source>
        <translation>Kriterium, das betrachtet wird</translation>
    </message>
    <message>
        <source>Verdict of what is looked at</source>
        <translation>Urteil über das Betrachtete</translation>
    </message>
    <message>
        <source>the worst space</source>
        <translation>dem ungünstigsten Raum</translation>
    </message>
    <message>
        <source>worst position</source>
        <translation>ungünstigste Stelle</translation>
    </message>
    <message>
        <source>the worst condition</source>
        <translation>ungünstigstem Zustand</translation>
    </message>
    <message>
        <source>every criterion</source>
        <translation>jedem Kriterium</translation>
    </message>
</context>
<context>
    <name>becalm::desktop::SurveyDocument</name>
    <message>
        <source>change made elsewhere</source>
        <translation>anderswo gemachte Änderung</translation>
    </message>
    <message>
        <source>unsaved changes of the last time</source>
        <translation>ungesicherte Änderungen vom letzten Mal</translation>
    </message>
</context>
<context>
    <name>becalm::desktop::SurveyGrid</name>
    <message numerus="yes">
        <source>paste of %n row(s)</source>
        <translation>
            <numerusform>%n Zeile einfügen</numerusform>
            <numerusform>%n Zeilen einfügen</numerusform>
        </translation>
    </message>
    <message>
        <source>fill down</source>
        <translation>nach unten ausfüllen</translation>
    </message>
    <message>
        <source>emptied cells</source>
        <translation>geleerte Zellen</translation>
    </message>
    <message>
        <source>&amp;Copy</source>
        <translation>&amp;Kopieren</translation>
    </message>
    <message>
        <source>&amp;Paste</source>
        <translation>&amp;Einfügen</translation>
    </message>
    <message>
        <source>&amp;Fill down</source>
        <translation>Nach &amp;unten ausfüllen</translation>
    </message>
    <message>
        <source>&amp;Empty</source>
        <translation>&amp;Leeren</translation>
    </message>
</context>
<context>
    <name>becalm::desktop::SurveyTable</name>
    <message>
        <source>%1 (guess)</source>
        <translation>%1 (vermutet)</translation>
    </message>
    <message>
        <source>edit of %1</source>
        <translation>Änderung: %1</translation>
    </message>
    <message>
        <source>&quot;%1&quot; is no number</source>
        <translation>„%1“ ist keine Zahl</translation>
    </message>
    <message>
        <source>type digits, with a comma or a point before the decimals</source>
        <translation>geben Sie Ziffern ein, mit Komma oder Punkt vor den Nachkommastellen</translation>
    </message>
</context>
<context>
    <name>becalm::desktop::TaskModel</name>
    <message>
        <source>as measured</source>
        <translation>wie gemessen</translation>
    </message>
    <message>
        <source>all measured</source>
        <translation>alles Gemessene</translation>
    </message>
    <message>
        <source>the block has more rows than there are below</source>
        <translation>der Block hat mehr Zeilen, als darunter sind</translation>
    </message>
    <message>
        <source>add the tasks first</source>
        <translation>fügen Sie zuerst die Aufgaben hinzu</translation>
    </message>
    <message>
        <source>new task</source>
        <translation>neue Aufgabe</translation>
    </message>
    <message>
        <source>removal of a task</source>
        <translation>Aufgabe herausnehmen</translation>
    </message>
</context>
<context>
    <name>becalm::desktop::TimeView</name>
    <message>
        <source>event</source>
        <translation>Ereignis</translation>
    </message>
</context>
<context>
    <name>becalm::desktop::VerdictDetails</name>
    <message>
        <source>From the axes to the value</source>
        <translation>Von den Achsen zum Wert</translation>
    </message>
    <message>
        <source>axis</source>
        <translation>Achse</translation>
    </message>
    <message>
        <source>weighting</source>
        <translation>Bewertung</translation>
    </message>
    <message>
        <source>factor</source>
        <translation>Faktor</translation>
    </message>
    <message>
        <source>value</source>
        <translation>Wert</translation>
    </message>
    <message>
        <source>judged</source>
        <translation>beurteilt</translation>
    </message>
    <message>
        <source>, %1 h</source>
        <translation>, %1 h</translation>
    </message>
    <message>
        <source>, %1 events</source>
        <translation>, %1 Ereignisse</translation>
    </message>
    <message>
        <source>, in hours of rest</source>
        <translation>, in Ruhezeiten</translation>
    </message>
    <message>
        <source>Parts that add up</source>
        <translation>Teile, die sich summieren</translation>
    </message>
    <message>
        <source>Value</source>
        <translation>Wert</translation>
    </message>
    <message>
        <source> (k = 2)</source>
        <translation> (k = 2)</translation>
    </message>
    <message>
        <source>, uncertainty not stated</source>
        <translation>, Unsicherheit nicht angegeben</translation>
    </message>
    <message>
        <source> (band %1 of %2)</source>
        <translation> (Stufe %1 von %2)</translation>
    </message>
    <message>
        <source>Band</source>
        <translation>Stufe</translation>
    </message>
    <message>
        <source>Limit</source>
        <translation>Grenzwert</translation>
    </message>
    <message>
        <source>Verdict</source>
        <translation>Urteil</translation>
    </message>
    <message>
        <source>exceeded</source>
        <translation>überschritten</translation>
    </message>
    <message>
        <source>Second quantity</source>
        <translation>Zweite Größe</translation>
    </message>
    <message>
        <source>Publication</source>
        <translation>Veröffentlichung</translation>
    </message>
    <message>
        <source>Clause</source>
        <translation>Abschnitt</translation>
    </message>
    <message>
        <source>Its numbers</source>
        <translation>Ihre Zahlen</translation>
    </message>
    <message>
        <source>Compared with the publication</source>
        <translation>Mit der Veröffentlichung verglichen</translation>
    </message>
    <message>
        <source>Quantity</source>
        <translation>Größe</translation>
    </message>
    <message>
        <source>Axis</source>
        <translation>Achse</translation>
    </message>
    <message>
        <source>Weighting</source>
        <translation>Frequenzbewertung</translation>
    </message>
    <message>
        <source>Use</source>
        <translation>Nutzung</translation>
    </message>
    <message>
        <source>Assumptions</source>
        <translation>Annahmen</translation>
    </message>
    <message>
        <source>Recordings</source>
        <translation>Aufzeichnungen</translation>
    </message>
    <message>
        <source>To be sure</source>
        <translation>Zur Sicherheit fehlt</translation>
    </message>
</context>
<context>
    <name>becalm::desktop::VerdictFacts</name>
    <message>
        <source>exceeds the limit by %1</source>
        <translation>überschreitet den Grenzwert um %1</translation>
    </message>
    <message>
        <source>%1 above the last limit</source>
        <translation>%1 über dem letzten Grenzwert</translation>
    </message>
    <message>
        <source>%1 below the next limit</source>
        <translation>%1 unter dem nächsten Grenzwert</translation>
    </message>
    <message>
        <source> (%1 % of it)</source>
        <translation> (%1 % davon)</translation>
    </message>
    <message>
        <source>, within the uncertainty</source>
        <translation>, innerhalb der Unsicherheit</translation>
    </message>
</context>
<context>
    <name>becalm::desktop::WhatIfPanel</name>
    <message>
        <source>by, dB</source>
        <translation>um, dB</translation>
    </message>
    <message>
        <source>by, Hz (+ up, − down)</source>
        <translation>um, Hz (+ aufwärts, − abwärts)</translation>
    </message>
    <message>
        <source>natural frequency of the mount, Hz</source>
        <translation>Eigenfrequenz der Lagerung, Hz</translation>
    </message>
    <message>
        <source>damping ratio of the mount</source>
        <translation>Dämpfungsgrad der Lagerung</translation>
    </message>
    <message>
        <source>frequency of the resonance, Hz</source>
        <translation>Frequenz der Resonanz, Hz</translation>
    </message>
    <message>
        <source>mass of the damper over that of the mode</source>
        <translation>Masse des Tilgers zu der der Eigenform</translation>
    </message>
    <message>
        <source>damping ratio of the resonance</source>
        <translation>Dämpfungsgrad der Resonanz</translation>
    </message>
    <message>
        <source>times as stiff</source>
        <translation>mal so steif</translation>
    </message>
    <message>
        <source>needs %1 dB less from %2 to reach “%3”</source>
        <translation>braucht %1 dB weniger von %2, um „%3“ zu erreichen</translation>
    </message>
    <message>
        <source>“%1” is not reachable by %2 alone: without it the value is %3</source>
        <translation>„%1“ ist durch %2 allein nicht erreichbar: ohne diese ist der Wert %3</translation>
    </message>
    <message>
        <source>without %1 the value is %2</source>
        <translation>ohne %1 ist der Wert %2</translation>
    </message>
    <message>
        <source>Kind of change</source>
        <translation>Art der Änderung</translation>
    </message>
    <message>
        <source>a source is brought down</source>
        <translation>eine Quelle wird leiser</translation>
    </message>
    <message>
        <source>a source moves in frequency</source>
        <translation>eine Quelle wandert in der Frequenz</translation>
    </message>
    <message>
        <source>a source stands on a mount</source>
        <translation>eine Quelle steht auf einer Lagerung</translation>
    </message>
    <message>
        <source>a tuned damper on a resonance</source>
        <translation>ein Schwingungstilger auf einer Resonanz</translation>
    </message>
    <message>
        <source>a resonance is made stiffer</source>
        <translation>eine Resonanz wird versteift</translation>
    </message>
    <message>
        <source>What &amp;if</source>
        <translation>&amp;Was, wenn</translation>
    </message>
    <message>
        <source>Source that is changed</source>
        <translation>Quelle, die geändert wird</translation>
    </message>
    <message>
        <source>source</source>
        <translation>Quelle</translation>
    </message>
    <message>
        <source>&amp;Try it</source>
        <translation>&amp;Probieren</translation>
    </message>
    <message>
        <source>&amp;Forget the chosen</source>
        <translation>Gewählte &amp;vergessen</translation>
    </message>
    <message>
        <source>Take the change of the chosen row away</source>
        <translation>Die Änderung der gewählten Zeile wegnehmen</translation>
    </message>
    <message>
        <source>Now, and what each change is predicted to do</source>
        <translation>Jetzt, und was jede Änderung voraussichtlich bewirkt</translation>
    </message>
    <message>
        <source>Change</source>
        <translation>Änderung</translation>
    </message>
    <message>
        <source>Value</source>
        <translation>Wert</translation>
    </message>
    <message>
        <source>Band</source>
        <translation>Stufe</translation>
    </message>
    <message>
        <source>Notes</source>
        <translation>Beachten</translation>
    </message>
    <message>
        <source>What would cure it</source>
        <translation>Was abhelfen würde</translation>
    </message>
    <message>
        <source>%1: %2</source>
        <translation>%1: %2</translation>
    </message>
    <message>
        <source>%1: give a number, such as 6,5</source>
        <translation>%1: geben Sie eine Zahl an, etwa 6,5</translation>
    </message>
    <message>
        <source>%1: %2 is not above 0</source>
        <translation>%1: %2 ist nicht über 0</translation>
    </message>
    <message>
        <source>%1: “%2” is no number; write it like 6,5 or 6.5</source>
        <translation>%1: „%2“ ist keine Zahl; schreiben Sie sie wie 6,5 oder 6.5</translation>
    </message>
    <message>
        <source>as it is now</source>
        <translation>wie es jetzt ist</translation>
    </message>
    <message>
        <source>, exceeded</source>
        <translation>, überschritten</translation>
    </message>
    <message>
        <source>The next band, “%1”, begins %2 % lower.</source>
        <translation>Die nächste Stufe, „%1“, beginnt %2 % tiefer.</translation>
    </message>
</context>
<context>
    <name>becalm::desktop::WhenPage</name>
    <message>
        <source>not weighted</source>
        <translation>unbewertet</translation>
    </message>
    <message>
        <source>Recording</source>
        <translation>Aufzeichnung</translation>
    </message>
    <message>
        <source>Channel</source>
        <translation>Kanal</translation>
    </message>
    <message>
        <source>Weighting</source>
        <translation>Frequenzbewertung</translation>
    </message>
    <message>
        <source>Condition of the recording</source>
        <translation>Betriebszustand der Aufzeichnung</translation>
    </message>
    <message>
        <source>Stop playing</source>
        <translation>Wiedergabe anhalten</translation>
    </message>
    <message>
        <source>Play</source>
        <translation>Abspielen</translation>
    </message>
    <message>
        <source>There is nothing but a constant in this span: silence.</source>
        <translation>In diesem Abschnitt ist nur eine Konstante: Stille.</translation>
    </message>
    <message>
        <source>Playing %1 s, %2; full scale of the sound is %3 %4, the offset is taken away.</source>
        <translation>Wiedergabe von %1 s, %2; Vollausschlag des Tons ist %3 %4, der Gleichanteil ist abgezogen.</translation>
    </message>
    <message>
        <source>Closer</source>
        <translation>Näher</translation>
    </message>
    <message>
        <source>Look at half as long (+)</source>
        <translation>Halb so lang ansehen (+)</translation>
    </message>
    <message>
        <source>Wider</source>
        <translation>Weiter</translation>
    </message>
    <message>
        <source>Look at twice as long (−)</source>
        <translation>Doppelt so lang ansehen (−)</translation>
    </message>
    <message>
        <source>Whole</source>
        <translation>Ganz</translation>
    </message>
    <message>
        <source>The whole recording</source>
        <translation>Die ganze Aufzeichnung</translation>
    </message>
    <message>
        <source>Leave out…</source>
        <translation>Auslassen …</translation>
    </message>
    <message>
        <source>Leave a span out</source>
        <translation>Einen Abschnitt auslassen</translation>
    </message>
    <message>
        <source>Leave out the span that is selected, or type one (X)</source>
        <translation>Den gewählten Abschnitt auslassen, oder einen eingeben (X)</translation>
    </message>
    <message>
        <source>Playback speed</source>
        <translation>Wiedergabegeschwindigkeit</translation>
    </message>
    <message>
        <source>Faster playback raises every frequency: 10 Hz, ten times as fast, is heard as 100 Hz</source>
        <translation>Schnellere Wiedergabe hebt jede Frequenz: 10 Hz, zehnmal so schnell, klingen wie 100 Hz</translation>
    </message>
    <message>
        <source>as fast as it was</source>
        <translation>so schnell, wie es war</translation>
    </message>
    <message>
        <source>4 times as fast</source>
        <translation>4-mal so schnell</translation>
    </message>
    <message>
        <source>10 times as fast</source>
        <translation>10-mal so schnell</translation>
    </message>
    <message>
        <source>20 times as fast</source>
        <translation>20-mal so schnell</translation>
    </message>
    <message>
        <source>Play as sound</source>
        <translation>Als Ton abspielen</translation>
    </message>
    <message>
        <source>Play the span that is selected, else what is seen (Space)</source>
        <translation>Den gewählten Abschnitt abspielen, sonst was zu sehen ist (Leertaste)</translation>
    </message>
    <message>
        <source>What the change did</source>
        <translation>Was die Änderung bewirkte</translation>
    </message>
    <message>
        <source>Trouble with the recording</source>
        <translation>Schwierigkeit mit der Aufzeichnung</translation>
    </message>
    <message>
        <source>What is heard</source>
        <translation>Was zu hören ist</translation>
    </message>
    <message>
        <source>Left out, and events</source>
        <translation>Ausgelassenes, und Ereignisse</translation>
    </message>
    <message>
        <source>&quot;%1&quot; is no number of seconds; write 12.5 or 12,5</source>
        <translation>„%1“ ist keine Zahl von Sekunden; schreiben Sie 12.5 oder 12,5</translation>
    </message>
    <message>
        <source>Take back</source>
        <translation>Zurücknehmen</translation>
    </message>
    <message>
        <source>Removes the row that is chosen: the span counts again, or is no event any more</source>
        <translation>Entfernt die gewählte Zeile: Der Abschnitt zählt wieder, oder ist kein Ereignis mehr</translation>
    </message>
    <message>
        <source>Findings</source>
        <translation>Befunde</translation>
    </message>
    <message>
        <source>What was noticed</source>
        <translation>Was auffiel</translation>
    </message>
    <message>
        <source>stands for the %1</source>
        <translation>steht für: %1</translation>
    </message>
    <message>
        <source>%1 h a day</source>
        <translation>%1 h am Tag</translation>
    </message>
    <message>
        <source>%1 events</source>
        <translation>%1 Ereignisse</translation>
    </message>
    <message>
        <source>channel %1, %2</source>
        <translation>Kanal %1, %2</translation>
    </message>
    <message>
        <source>, at %1 s</source>
        <translation>, bei %1 s</translation>
    </message>
    <message>
        <source>, channel %1</source>
        <translation>, Kanal %1</translation>
    </message>
    <message>
        <source>nothing about this recording</source>
        <translation>nichts zu dieser Aufzeichnung</translation>
    </message>
    <message>
        <source>strip</source>
        <translation>Streifen</translation>
    </message>
    <message>
        <source>samples</source>
        <translation>Abtastwerte</translation>
    </message>
    <message>
        <source>Reading the samples: %1 %. Until then the range of each second is shown.</source>
        <translation>Abtastwerte werden gelesen: %1 %. Bis dahin ist der Bereich jeder Sekunde gezeigt.</translation>
    </message>
    <message>
        <source>%1 stays as it was: %2.</source>
        <translation>%1 bleibt, wie es war: %2.</translation>
    </message>
    <message>
        <source>%1: %2 before, now %3.</source>
        <translation>%1: vorher %2, jetzt %3.</translation>
    </message>
    <message>
        <source>A span needs two numbers of seconds; write 12.5 or 12,5</source>
        <translation>Ein Abschnitt braucht zwei Zahlen von Sekunden; schreiben Sie 12.5 oder 12,5</translation>
    </message>
    <message>
        <source>leave out %1 s to %2 s</source>
        <translation>%1 s bis %2 s auslassen</translation>
    </message>
    <message>
        <source>event at %1 s</source>
        <translation>Ereignis bei %1 s</translation>
    </message>
    <message>
        <source>change the span at %1 s</source>
        <translation>Abschnitt bei %1 s ändern</translation>
    </message>
    <message>
        <source>take back the span at %1 s</source>
        <translation>Abschnitt bei %1 s zurücknehmen</translation>
    </message>
    <message>
        <source>note</source>
        <translation>Hinweis</translation>
    </message>
    <message>
        <source>caution</source>
        <translation>Vorsicht</translation>
    </message>
    <message>
        <source>cannot be judged</source>
        <translation>nicht zu beurteilen</translation>
    </message>
</context>
<context>
    <name>becalm::desktop::WhyPage</name>
    <message>
        <source>State of the explanation</source>
        <translation>Zustand der Erklärung</translation>
    </message>
    <message>
        <source>E&amp;xplain</source>
        <translation>E&amp;rklären</translation>
    </message>
    <message>
        <source>Draw a source&apos;s line to where it belongs; its harmonics follow</source>
        <translation>Ziehen Sie die Linie einer Quelle dorthin, wo sie hingehört; ihre Harmonischen folgen</translation>
    </message>
    <message>
        <source>Second figure</source>
        <translation>Zweite Abbildung</translation>
    </message>
    <message>
        <source>Ba&amp;nds</source>
        <translation>Ter&amp;zen</translation>
    </message>
    <message>
        <source>Over ti&amp;me</source>
        <translation>Über der Ze&amp;it</translation>
    </message>
    <message>
        <source>&amp;Ladder</source>
        <translation>Was es t&amp;rägt</translation>
    </message>
    <message>
        <source>Frequencies that dominate</source>
        <translation>Vorherrschende Frequenzen</translation>
    </message>
    <message>
        <source>Shares of the energy, and notes</source>
        <translation>Anteile an der Energie, und Anmerkungen</translation>
    </message>
    <message>
        <source>Tables of the causes</source>
        <translation>Tabellen der Ursachen</translation>
    </message>
    <message>
        <source>What &amp;dominates</source>
        <translation>Was vor&amp;herrscht</translation>
    </message>
    <message>
        <source>S&amp;ources</source>
        <translation>&amp;Quellen</translation>
    </message>
    <message>
        <source>What if, and cu&amp;res</source>
        <translation>Was wäre wenn, und A&amp;bhilfe</translation>
    </message>
    <message>
        <source>Open a survey first.</source>
        <translation>Öffnen Sie zuerst eine Messung.</translation>
    </message>
    <message>
        <source>The survey file has faults; mend them, then its causes can be looked for.</source>
        <translation>Die Messungsdatei hat Fehler; beheben Sie sie, dann lassen sich die Ursachen suchen.</translation>
    </message>
    <message>
        <source>The survey is being judged; its causes come after.</source>
        <translation>Die Messung wird beurteilt; die Ursachen kommen danach.</translation>
    </message>
    <message>
        <source>The survey has not been judged yet: judge it first (F5).</source>
        <translation>Die Messung ist noch nicht beurteilt: Beurteilen Sie sie zuerst (F5).</translation>
    </message>
    <message>
        <source>Stopped before the causes were known.</source>
        <translation>Angehalten, bevor die Ursachen bekannt waren.</translation>
    </message>
    <message>
        <source>The day of %1 is made of tasks in several spaces; choose one of the spaces to see why it shakes.</source>
        <translation>Der Tag von %1 besteht aus Aufgaben in mehreren Räumen; wählen Sie einen der Räume, um zu sehen, warum er schwingt.</translation>
    </message>
    <message>
        <source>Nothing could be judged, so there is nothing to explain; the page How much says why.</source>
        <translation>Nichts war beurteilbar, also gibt es nichts zu erklären; die Seite Wie viel sagt, warum.</translation>
    </message>
    <message>
        <source>Nothing is judged under this choice; choose another criterion, condition or position above.</source>
        <translation>Unter dieser Wahl ist nichts beurteilt; wählen Sie oben ein anderes Kriterium, einen anderen Betriebszustand oder eine andere Stelle.</translation>
    </message>
    <message>
        <source>This cannot be explained, because it could not be judged: %1</source>
        <translation>Das lässt sich nicht erklären, weil es nicht beurteilbar war: %1</translation>
    </message>
    <message>
        <source>Being worked out anew; what is seen is of before.</source>
        <translation>Wird neu berechnet; was zu sehen ist, ist von vorher.</translation>
    </message>
    <message>
        <source>The causes are being worked out.</source>
        <translation>Die Ursachen werden berechnet.</translation>
    </message>
    <message>
        <source>No explanation was made of this verdict; judge again (F5).</source>
        <translation>Zu diesem Urteil gibt es keine Erklärung; beurteilen Sie neu (F5).</translation>
    </message>
    <message>
        <source>This cannot be explained, because %1.</source>
        <translation>Das lässt sich nicht erklären: %1.</translation>
    </message>
    <message>
        <source>Rows of time are kept of one recording of 2 rows at least; several do not join</source>
        <translation>Zeitzeilen gibt es von einer Aufzeichnung mit mindestens 2 Zeilen; mehrere fügen sich nicht aneinander</translation>
    </message>
    <message>
        <source>The survey has changed since these speeds were tried; look at them again, then write them.</source>
        <translation>Die Messung hat sich geändert, seit diese Drehzahlen probiert wurden; sehen Sie sie noch einmal an, dann schreiben Sie sie.</translation>
    </message>
    <message>
        <source>write the sources&apos; speeds</source>
        <translation>Drehzahlen der Quellen schreiben</translation>
    </message>
</context>
<context>
    <name>becalm::desktop::Words</name>
    <message>
        <source>cannot be judged</source>
        <translation>nicht beurteilbar</translation>
    </message>
    <message>
        <source>no limits set</source>
        <translation>keine Grenzwerte festgelegt</translation>
    </message>
    <message>
        <source> (or %1)</source>
        <translation> (oder %1)</translation>
    </message>
</context>
<context>
    <name>main</name>
    <message>
        <source>Judges vibration comfort from recordings</source>
        <translation>Beurteilt Schwingungskomfort aus Aufzeichnungen</translation>
    </message>
    <message>
        <source>a survey, a folder of recordings, or recordings</source>
        <translation>eine Messung, ein Ordner mit Aufzeichnungen oder Aufzeichnungen</translation>
    </message>
</context>
</TS>
