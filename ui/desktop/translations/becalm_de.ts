<?xml version="1.0" encoding="utf-8"?>
<!DOCTYPE TS>
<TS version="2.1" language="de" sourcelanguage="en">
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
</context>
<context>
    <name>becalm::desktop::HelpSheet</name>
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
        <source>An uncertainty is stated where the survey states that of the sensor; so far it covers calibration only.</source>
        <translation>Eine Unsicherheit ist angegeben, wo die Messung jene des Aufnehmers nennt; bisher umfasst sie nur die Kalibrierung.</translation>
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
        <source>Qt %1 (LGPL 3), FFTW, Eigen, libsndfile, toml++, nlohmann/json, {fmt}, tl::expected, OpenSSL&apos;s libcrypto, xxHash.</source>
        <translation>Qt %1 (LGPL 3), FFTW, Eigen, libsndfile, toml++, nlohmann/json, {fmt}, tl::expected, libcrypto von OpenSSL, xxHash.</translation>
    </message>
    <message>
        <source>About Becalm</source>
        <translation>Über Becalm</translation>
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
        <translation>noch nicht gesichert</translation>
    </message>
    <message>
        <source>saved</source>
        <translation>gesichert</translation>
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
