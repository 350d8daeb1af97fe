<?xml version="1.0" encoding="utf-8"?>
<!DOCTYPE TS>
<TS version="2.1" language="fr" sourcelanguage="en">
<context>
    <name>becalm::desktop</name>
    <message>
        <source>File</source>
        <translation>Fichier</translation>
    </message>
    <message>
        <source>Relative to the survey&apos;s folder</source>
        <translation>À partir du dossier de la campagne</translation>
    </message>
    <message>
        <source>Channel</source>
        <translation>Voie</translation>
    </message>
    <message>
        <source>Counted from 1, as the file has them</source>
        <translation>Comptées à partir de 1, comme dans le fichier</translation>
    </message>
    <message>
        <source>Its name</source>
        <translation>Son nom</translation>
    </message>
    <message>
        <source>Of the channel, as the file has it</source>
        <translation>De la voie, comme dans le fichier</translation>
    </message>
    <message>
        <source>The file says</source>
        <translation>Le fichier dit</translation>
    </message>
    <message>
        <source>Rate, duration, unit and format, or what is wrong</source>
        <translation>Cadence, durée, unité et format, ou ce qui ne va pas</translation>
    </message>
    <message>
        <source>Axis</source>
        <translation>Axe</translation>
    </message>
    <message>
        <source>x fore-and-aft, y lateral, z vertical or along the spine; roll, pitch and yaw turn about x, y, z</source>
        <translation>x longitudinal, y latéral, z vertical ou le long de la colonne ; roulis, tangage et lacet tournent autour de x, y, z</translation>
    </message>
    <message>
        <source>Unit</source>
        <translation>Unité</translation>
    </message>
    <message>
        <source>Of all channels of the recording</source>
        <translation>De toutes les voies de l’enregistrement</translation>
    </message>
    <message>
        <source>Scale</source>
        <translation>Échelle</translation>
    </message>
    <message>
        <source>What a stored 1.0 is in this unit; integer samples have 1.0 at full scale</source>
        <translation>Ce que vaut un 1,0 enregistré dans cette unité ; les échantillons entiers ont 1,0 à pleine échelle</translation>
    </message>
    <message>
        <source>Space</source>
        <translation>Local</translation>
    </message>
    <message>
        <source>Where it was taken; a new name makes a new space</source>
        <translation>Où il a été pris ; un nouveau nom crée un nouveau local</translation>
    </message>
    <message>
        <source>Position</source>
        <translation>Position</translation>
    </message>
    <message>
        <source>Where on or under a person the sensor sat</source>
        <translation>Où, sur ou sous une personne, se trouvait le capteur</translation>
    </message>
    <message>
        <source>Condition</source>
        <translation>Condition</translation>
    </message>
    <message>
        <source>What ran meanwhile</source>
        <translation>Ce qui tournait pendant ce temps</translation>
    </message>
    <message>
        <source>Sensor</source>
        <translation>Capteur</translation>
    </message>
    <message>
        <source>Its uncertainty goes into the verdict</source>
        <translation>Son incertitude entre dans le verdict</translation>
    </message>
    <message>
        <source>Start</source>
        <translation>Début</translation>
    </message>
    <message>
        <source>Date, time and offset from UTC, such as 2026-05-02T10:12:00+01:00</source>
        <translation>Date, heure et décalage par rapport à UTC, par exemple 2026-05-02T10:12:00+01:00</translation>
    </message>
    <message>
        <source>Comment</source>
        <translation>Commentaire</translation>
    </message>
    <message>
        <source>%1: not within a day of this work</source>
        <translation>%1 : pas en un jour de ce travail</translation>
    </message>
    <message>
        <source>%1: after %2 of this work</source>
        <translation>%1 : après %2 de ce travail</translation>
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
        <translation>Identifiant</translation>
    </message>
    <message>
        <source>Renaming it renames it wherever it is named.</source>
        <translation>Le renommer le renomme partout où il est nommé.</translation>
    </message>
    <message>
        <source>no date: nobody can tell whether it was calibrated</source>
        <translation>pas de date : nul ne peut dire s’il était étalonné</translation>
    </message>
    <message>
        <source>more than %1 years before its use on %2: have it checked</source>
        <translation>plus de %1 ans avant son emploi le %2 : à faire vérifier</translation>
    </message>
    <message>
        <source>no recording with a start names it</source>
        <translation>aucun enregistrement daté ne le nomme</translation>
    </message>
    <message>
        <source>in time for its use until %1</source>
        <translation>à temps pour son emploi jusqu’au %1</translation>
    </message>
    <message>
        <source>sensor</source>
        <translation>capteur</translation>
    </message>
    <message>
        <source>What recordings call it.</source>
        <translation>Le nom que lui donnent les enregistrements.</translation>
    </message>
    <message>
        <source>Title</source>
        <translation>Titre</translation>
    </message>
    <message>
        <source>Serial number</source>
        <translation>Numéro de série</translation>
    </message>
    <message>
        <source>Calibrated</source>
        <translation>Étalonné</translation>
    </message>
    <message>
        <source>Year-month-day; Delete empties the cell</source>
        <translation>Année-mois-jour ; Suppr vide la cellule</translation>
    </message>
    <message>
        <source>Certificate</source>
        <translation>Certificat</translation>
    </message>
    <message>
        <source>Number on the certificate</source>
        <translation>Numéro du certificat</translation>
    </message>
    <message>
        <source>Uncertainty (%)</source>
        <translation>Incertitude (%)</translation>
    </message>
    <message>
        <source>Expanded uncertainty (k = 2) of the sensitivity; it goes into every verdict</source>
        <translation>Incertitude élargie (k = 2) de la sensibilité ; elle entre dans chaque verdict</translation>
    </message>
    <message>
        <source>Calibration</source>
        <translation>Étalonnage</translation>
    </message>
    <message>
        <source>Against the days of use. %1 years is common practice and no rule of a publication.</source>
        <translation>Par rapport aux jours d’emploi. %1 ans est un usage courant et non une règle d’une publication.</translation>
    </message>
    <message>
        <source>condition</source>
        <translation>condition</translation>
    </message>
    <message>
        <source>not said</source>
        <translation>non précisé</translation>
    </message>
    <message>
        <source>Stands for</source>
        <translation>Représente</translation>
    </message>
    <message>
        <source>Part of the day that its recordings stand for</source>
        <translation>Partie du jour que représentent ses enregistrements</translation>
    </message>
    <message>
        <source>Lasts (h)</source>
        <translation>Dure (h)</translation>
    </message>
    <message>
        <source>Hours a day, or of the period</source>
        <translation>Heures par jour, ou de la période</translation>
    </message>
    <message>
        <source>Events</source>
        <translation>Événements</translation>
    </message>
    <message>
        <source>How often the recorded event happens in the period</source>
        <translation>Combien de fois l’événement enregistré se produit dans la période</translation>
    </message>
    <message>
        <source>source</source>
        <translation>source</translation>
    </message>
    <message>
        <source>What figures call it.</source>
        <translation>Le nom que lui donnent les figures.</translation>
    </message>
    <message>
        <source>Kind</source>
        <translation>Genre</translation>
    </message>
    <message>
        <source>Says which frequencies follow from its values</source>
        <translation>Dit quelles fréquences découlent de ses valeurs</translation>
    </message>
    <message>
        <source>space</source>
        <translation>local</translation>
    </message>
    <message>
        <source>Label</source>
        <translation>Désignation</translation>
    </message>
    <message>
        <source>Use</source>
        <translation>Usage</translation>
    </message>
    <message>
        <source>Chooses the scale of a criterion: the same motion is worse in a cabin than in a galley</source>
        <translation>Choisit l’échelle d’un critère : le même mouvement est pire dans une cabine que dans une cuisine</translation>
    </message>
    <message>
        <source>Group</source>
        <translation>Groupe</translation>
    </message>
    <message>
        <source>A deck, a storey, a coach</source>
        <translation>Un pont, un étage, une voiture</translation>
    </message>
    <message>
        <source>Person</source>
        <translation>Personne</translation>
    </message>
    <message>
        <source>Or the job, where several persons do it</source>
        <translation>Ou le poste, quand plusieurs personnes l’occupent</translation>
    </message>
    <message>
        <source>Day</source>
        <translation>Jour</translation>
    </message>
    <message>
        <source>Where the days of a week differ</source>
        <translation>Quand les jours d’une semaine diffèrent</translation>
    </message>
    <message>
        <source>Where</source>
        <translation>Où</translation>
    </message>
    <message>
        <source>The space of the task</source>
        <translation>Le local de la tâche</translation>
    </message>
    <message>
        <source>Where the motion enters; empty: the one that was measured there</source>
        <translation>Où entre le mouvement ; vide : celle qui y a été mesurée</translation>
    </message>
    <message>
        <source>What runs meanwhile; empty: all that was measured</source>
        <translation>Ce qui tourne pendant ce temps ; vide : tout ce qui a été mesuré</translation>
    </message>
    <message>
        <source>Hours</source>
        <translation>Heures</translation>
    </message>
    <message>
        <source>Of exposure a day</source>
        <translation>D’exposition par jour</translation>
    </message>
    <message>
        <source>Reference channel</source>
        <translation>Voie de référence</translation>
    </message>
    <message>
        <source>Of the recordings&apos; files, where a transducer sits on the source; needs no axis</source>
        <translation>Des fichiers des enregistrements, là où un capteur est posé sur la source ; sans axe</translation>
    </message>
    <message>
        <source>Mounting (%)</source>
        <translation>Montage (%)</translation>
    </message>
    <message>
        <source>Your estimate of what the mounting adds to the uncertainty (k = 2), in place of the survey&apos;s</source>
        <translation>Votre estimation de ce que le montage ajoute à l&apos;incertitude (k = 2), au lieu de celle de la campagne</translation>
    </message>
    <message>
        <source>Place (%)</source>
        <translation>Emplacement (%)</translation>
    </message>
    <message>
        <source>Your estimate of what the place adds to the uncertainty (k = 2), in place of the space&apos;s and the survey&apos;s</source>
        <translation>Votre estimation de ce que l&apos;emplacement ajoute à l&apos;incertitude (k = 2), au lieu de celle du local et de la campagne</translation>
    </message>
    <message>
        <source>Your estimate of what the choice of the place adds to the uncertainty (k = 2), in place of the survey&apos;s</source>
        <translation>Votre estimation de ce que le choix de l&apos;emplacement ajoute à l&apos;incertitude (k = 2), au lieu de celle de la campagne</translation>
    </message>
    <message>
        <source>Resample to (Hz)</source>
        <translation>Rééchantillonner à (Hz)</translation>
    </message>
    <message>
        <source>Of a text whose times run unevenly: the even rate its rows are put onto</source>
        <translation>Pour un texte dont les instants sont irréguliers : la fréquence régulière sur laquelle ses lignes sont ramenées</translation>
    </message>
    <message>
        <source>Sensitivity</source>
        <translation>Sensibilité</translation>
    </message>
    <message>
        <source>Where volts were recorded, such as 10.2 mV/(m/s2), in place of the unit; the scale is then in volts</source>
        <translation>Si des volts ont été enregistrés, par exemple 10.2 mV/(m/s2), à la place de l&apos;unité ; l&apos;échelle est alors en volts</translation>
    </message>
    <message>
        <source>Model</source>
        <translation>Modèle</translation>
    </message>
    <message>
        <source>Maker and type</source>
        <translation>Fabricant et type</translation>
    </message>
    <message>
        <source>Held against what a file says of its sensors</source>
        <translation>Comparé à ce qu&apos;un fichier dit de ses capteurs</translation>
    </message>
    <message>
        <source>As its data sheet states it; changes no value</source>
        <translation>Telle que l&apos;indique sa fiche technique ; ne change aucune valeur</translation>
    </message>
    <message>
        <source>Its unit</source>
        <translation>Son unité</translation>
    </message>
    <message>
        <source>Such as mV/(m/s2)</source>
        <translation>Par exemple mV/(m/s2)</translation>
    </message>
    <message>
        <source>Valid (months)</source>
        <translation>Valable (mois)</translation>
    </message>
    <message>
        <source>How long a calibration holds; a later recording is a caution</source>
        <translation>Durée de validité d&apos;un étalonnage ; un enregistrement postérieur appelle à la prudence</translation>
    </message>
    <message>
        <source>Noise (m/s2)</source>
        <translation>Bruit (m/s2)</translation>
    </message>
    <message>
        <source>R.m.s. value with the sensor at rest, weighted or within the band that is judged</source>
        <translation>Valeur efficace avec le capteur au repos, pondérée ou dans la bande évaluée</translation>
    </message>
    <message>
        <source>Data sheet (TEDS)</source>
        <translation>Fiche (TEDS)</translation>
    </message>
    <message>
        <source>Electronic data sheet of the sensor: hexadecimal text, or a file in the survey&apos;s folder</source>
        <translation>Fiche électronique du capteur : texte hexadécimal, ou un fichier dans le dossier de la campagne</translation>
    </message>
</context>
<context>
    <name>becalm::desktop::ChannelModel</name>
    <message>
        <source>roll</source>
        <translation>roulis</translation>
    </message>
    <message>
        <source>pitch</source>
        <translation>tangage</translation>
    </message>
    <message>
        <source>yaw</source>
        <translation>lacet</translation>
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
        <translation>inutilisée</translation>
    </message>
    <message>
        <source>none</source>
        <translation>aucune</translation>
    </message>
    <message>
        <source>needed</source>
        <translation>nécessaire</translation>
    </message>
    <message>
        <source>being read …</source>
        <translation>lecture en cours…</translation>
    </message>
    <message>
        <source>not there</source>
        <translation>absent</translation>
    </message>
    <message>
        <source>cannot be read</source>
        <translation>illisible</translation>
    </message>
    <message numerus="yes">
        <source>has only %n channel(s)</source>
        <translation>
            <numerusform>n’a que %n voie</numerusform>
            <numerusform>n’a que %n voies</numerusform>
        </translation>
    </message>
    <message>
        <source>%1 Hz, %2</source>
        <translation>%1 Hz, %2</translation>
    </message>
    <message>
        <source>, integers</source>
        <translation>, entiers</translation>
    </message>
    <message>
        <source>%1 is being read</source>
        <translation>lecture de %1 en cours</translation>
    </message>
    <message>
        <source>%1: %2</source>
        <translation>%1 : %2</translation>
    </message>
    <message numerus="yes">
        <source>%1: %2, %3 Hz, %n channel(s), %4</source>
        <translation>
            <numerusform>%1 : %2, %3 Hz, %n voie, %4</numerusform>
            <numerusform>%1 : %2, %3 Hz, %n voies, %4</numerusform>
        </translation>
    </message>
    <message>
        <source>; it states no unit</source>
        <translation> ; il n’indique pas d’unité</translation>
    </message>
    <message>
        <source>; unit %1</source>
        <translation> ; unité %1</translation>
    </message>
    <message>
        <source>; started %1</source>
        <translation> ; début %1</translation>
    </message>
    <message>
        <source>; its channels have no names</source>
        <translation> ; ses voies n’ont pas de noms</translation>
    </message>
    <message>
        <source>; integer samples, which need a scale</source>
        <translation> ; échantillons entiers, qui demandent une échelle</translation>
    </message>
    <message>
        <source>Integer samples: say what full scale is in this unit</source>
        <translation>Échantillons entiers : dites ce que vaut la pleine échelle dans cette unité</translation>
    </message>
    <message>
        <source>A guess: %1. Change it, or say &quot;These are right&quot;.</source>
        <translation>Une supposition : %1. Changez-la, ou dites « Ceux-ci sont justes ».</translation>
    </message>
    <message>
        <source>the block has more rows than there are below</source>
        <translation>le bloc a plus de lignes qu’il n’y en a dessous</translation>
    </message>
    <message>
        <source>add the recordings first</source>
        <translation>ajoutez d’abord les enregistrements</translation>
    </message>
    <message>
        <source>guesses found right</source>
        <translation>suppositions confirmées</translation>
    </message>
    <message numerus="yes">
        <source>removal of %n recording(s)</source>
        <translation>
            <numerusform>retrait de %n enregistrement</numerusform>
            <numerusform>retrait de %n enregistrements</numerusform>
        </translation>
    </message>
    <message>
        <source>Choose channels of one recording to give them a place of their own.</source>
        <translation>Choisissez des voies d’un même enregistrement pour leur donner un lieu à elles.</translation>
    </message>
    <message>
        <source>These are all channels of the recording: change its space instead.</source>
        <translation>Ce sont toutes les voies de l’enregistrement : changez plutôt son local.</translation>
    </message>
    <message>
        <source>%1, other place</source>
        <translation>%1, autre lieu</translation>
    </message>
    <message>
        <source>a place of its own</source>
        <translation>un lieu à part</translation>
    </message>
</context>
<context>
    <name>becalm::desktop::Comparison</name>
    <message>
        <source>not measured</source>
        <translation>non mesuré</translation>
    </message>
    <message>
        <source>%1 in both</source>
        <translation>%1 dans les deux</translation>
    </message>
    <message>
        <source> (worse by %1)</source>
        <translation> (pire de %1)</translation>
    </message>
    <message>
        <source> (better by %1)</source>
        <translation> (mieux de %1)</translation>
    </message>
    <message>
        <source>space</source>
        <translation>local</translation>
    </message>
    <message>
        <source>position</source>
        <translation>position</translation>
    </message>
    <message>
        <source>criterion</source>
        <translation>critère</translation>
    </message>
    <message>
        <source>unit</source>
        <translation>unité</translation>
    </message>
    <message>
        <source>change, %</source>
        <translation>écart, %</translation>
    </message>
    <message>
        <source>change, dB</source>
        <translation>écart, dB</translation>
    </message>
    <message>
        <source>bands</source>
        <translation>classes</translation>
    </message>
</context>
<context>
    <name>becalm::desktop::ComparisonPanel</name>
    <message>
        <source>&amp;From</source>
        <translation>&amp;De</translation>
    </message>
    <message>
        <source>First condition</source>
        <translation>Première condition</translation>
    </message>
    <message>
        <source>&amp;to</source>
        <translation>&amp;à</translation>
    </message>
    <message>
        <source>Second condition</source>
        <translation>Seconde condition</translation>
    </message>
    <message>
        <source>Changes from the first condition to the second</source>
        <translation>Écarts de la première condition à la seconde</translation>
    </message>
    <message>
        <source>Copy the table</source>
        <translation>Copier le tableau</translation>
    </message>
    <message>
        <source>About the two conditions</source>
        <translation>Sur les deux conditions</translation>
    </message>
    <message>
        <source>Space</source>
        <translation>Local</translation>
    </message>
    <message>
        <source>Criterion</source>
        <translation>Critère</translation>
    </message>
    <message>
        <source>Change</source>
        <translation>Modification</translation>
    </message>
    <message>
        <source>Change in dB</source>
        <translation>Écart en dB</translation>
    </message>
    <message>
        <source>Band</source>
        <translation>Classe</translation>
    </message>
    <message>
        <source>not measured</source>
        <translation>non mesuré</translation>
    </message>
    <message>
        <source>Only one condition was measured here; there is nothing to compare it with.</source>
        <translation>Une seule condition a été mesurée ici ; il n’y a rien à lui comparer.</translation>
    </message>
    <message>
        <source>Nothing was measured in these two conditions.</source>
        <translation>Rien n’a été mesuré dans ces deux conditions.</translation>
    </message>
</context>
<context>
    <name>becalm::desktop::ComponentsModel</name>
    <message>
        <source>unexplained: no source of the survey makes it</source>
        <translation>inexpliquée : aucune source de la campagne ne la produit</translation>
    </message>
    <message>
        <source> or </source>
        <translation> ou </translation>
    </message>
    <message>
        <source>%1 (%2)</source>
        <translation>%1 (%2)</translation>
    </message>
    <message>
        <source>at %1</source>
        <translation>à %1</translation>
    </message>
    <message>
        <source>%1 to %2</source>
        <translation>%1 à %2</translation>
    </message>
    <message>
        <source>Frequency</source>
        <translation>Fréquence</translation>
    </message>
    <message>
        <source>Axis</source>
        <translation>Axe</translation>
    </message>
    <message>
        <source>Share</source>
        <translation>Part</translation>
    </message>
    <message>
        <source>Made by</source>
        <translation>Produite par</translation>
    </message>
    <message>
        <source>Because</source>
        <translation>Parce que</translation>
    </message>
    <message>
        <source>Series</source>
        <translation>Série</translation>
    </message>
    <message>
        <source>Beats</source>
        <translation>Battement</translation>
    </message>
    <message>
        <source>Drifts</source>
        <translation>Dérive</translation>
    </message>
    <message>
        <source>Of the energy: %1 by named sources, %2 in components that no source explains, %3 broad.</source>
        <translation>De l’énergie : %1 par les sources nommées, %2 en composantes qu’aucune source n’explique, %3 à large bande.</translation>
    </message>
</context>
<context>
    <name>becalm::desktop::CriteriaPanel</name>
    <message>
        <source>Search the criteria</source>
        <translation>Chercher dans les critères</translation>
    </message>
    <message>
        <source>Criteria that judge this survey</source>
        <translation>Critères qui jugent cette campagne</translation>
    </message>
    <message>
        <source>How many criteria</source>
        <translation>Combien de critères</translation>
    </message>
    <message>
        <source>Who compared the numbers with the publication, and when</source>
        <translation>Qui a comparé les nombres à la publication, et quand</translation>
    </message>
    <message>
        <source>name, date, copy of the publication</source>
        <translation>nom, date, exemplaire de la publication</translation>
    </message>
    <message>
        <source>&amp;Judge by it</source>
        <translation>&amp;Juger selon lui</translation>
    </message>
    <message>
        <source>&amp;Not now</source>
        <translation>&amp;Pas maintenant</translation>
    </message>
    <message>
        <source>%1 of %2 criteria for this setting judge the survey.</source>
        <translation>%1 critères sur %2 pour ce cadre jugent la campagne.</translation>
    </message>
    <message>
        <source> – for %1</source>
        <translation> – pour %1</translation>
    </message>
    <message>
        <source> – its numbers must be compared first</source>
        <translation> – ses nombres sont d’abord à comparer</translation>
    </message>
    <message>
        <source> – its limits must be typed in</source>
        <translation> – ses limites sont à saisir</translation>
    </message>
    <message>
        <source>judge by a criterion</source>
        <translation>juger selon un critère</translation>
    </message>
    <message>
        <source>leave out a criterion</source>
        <translation>écarter un critère</translation>
    </message>
    <message>
        <source>The numbers of %1 are from memory and not certain. Who compared them with the publication, and when? The answer stands in the survey.</source>
        <translation>Les nombres de %1 sont donnés de mémoire et ne sont pas certains. Qui les a comparés à la publication, et quand ? La réponse figure dans la campagne.</translation>
    </message>
</context>
<context>
    <name>becalm::desktop::EntryModel</name>
    <message>
        <source>new %1</source>
        <translation>nouveau : %1</translation>
    </message>
    <message>
        <source>removal of a %1</source>
        <translation>retrait : %1</translation>
    </message>
</context>
<context>
    <name>becalm::desktop::FigureView</name>
    <message>
        <source>no figure</source>
        <translation>pas de figure</translation>
    </message>
    <message>
        <source>Write the figure to</source>
        <translation>Écrire la figure dans</translation>
    </message>
    <message>
        <source>Write as SVG…</source>
        <translation>Écrire en SVG…</translation>
    </message>
    <message>
        <source>Drawing (*.svg)</source>
        <translation>Dessin (*.svg)</translation>
    </message>
    <message>
        <source>Write as PNG…</source>
        <translation>Écrire en PNG…</translation>
    </message>
    <message>
        <source>Picture (*.png)</source>
        <translation>Image (*.png)</translation>
    </message>
    <message>
        <source>Write as PDF…</source>
        <translation>Écrire en PDF…</translation>
    </message>
    <message>
        <source>Page (*.pdf)</source>
        <translation>Page (*.pdf)</translation>
    </message>
    <message>
        <source>Write its numbers as CSV…</source>
        <translation>Écrire ses valeurs en CSV…</translation>
    </message>
    <message>
        <source>Table (*.csv)</source>
        <translation>Tableau (*.csv)</translation>
    </message>
    <message>
        <source>%1: a figure is written as .svg, .png, .pdf or .csv; end the name with one of them</source>
        <translation>%1 : une figure s’écrit en .svg, .png, .pdf ou .csv ; terminez le nom par l’un d’eux</translation>
    </message>
    <message>
        <source>; here %1</source>
        <translation> ; ici %1</translation>
    </message>
    <message>
        <source>; curve %1</source>
        <translation> ; courbe %1</translation>
    </message>
    <message>
        <source>Copy the figure</source>
        <translation>Copier la figure</translation>
    </message>
    <message>
        <source>Copy its numbers</source>
        <translation>Copier ses valeurs</translation>
    </message>
</context>
<context>
    <name>becalm::desktop::GatherPage</name>
    <message>
        <source>vessel</source>
        <translation>navire</translation>
    </message>
    <message>
        <source>rail vehicle</source>
        <translation>véhicule ferroviaire</translation>
    </message>
    <message>
        <source>road vehicle</source>
        <translation>véhicule routier</translation>
    </message>
    <message>
        <source>building</source>
        <translation>bâtiment</translation>
    </message>
    <message>
        <source>lift</source>
        <translation>ascenseur</translation>
    </message>
    <message>
        <source>What the survey tells of</source>
        <translation>Ce dont parle la campagne</translation>
    </message>
    <message>
        <source>Spaces</source>
        <translation>Locaux</translation>
    </message>
    <message>
        <source>A row a room, cabin, seat row or floor. Its use chooses the scale of a criterion.</source>
        <translation>Une ligne par pièce, cabine, rangée ou plancher. L’usage choisit l’échelle d’un critère.</translation>
    </message>
    <message>
        <source>Conditions</source>
        <translation>Conditions</translation>
    </message>
    <message>
        <source>What the ship, train, lift, plant or traffic was doing. A space is judged for each condition by itself.</source>
        <translation>Ce que faisaient le navire, le train, l’ascenseur, l’installation ou le trafic. Un local est jugé séparément pour chaque condition.</translation>
    </message>
    <message>
        <source>Sensors</source>
        <translation>Capteurs</translation>
    </message>
    <message>
        <source>A recording that names a sensor carries its uncertainty into the verdict.</source>
        <translation>Un enregistrement qui nomme un capteur porte son incertitude dans le verdict.</translation>
    </message>
    <message>
        <source>Sources</source>
        <translation>Sources</translation>
    </message>
    <message>
        <source>What can excite vibration. Sources explain peaks of a spectrum; no verdict depends on them.</source>
        <translation>Ce qui peut exciter des vibrations. Les sources expliquent les pics d’un spectre ; aucun verdict n’en dépend.</translation>
    </message>
    <message>
        <source>S&amp;urvey</source>
        <translation>Ca&amp;mpagne</translation>
    </message>
    <message>
        <source>&amp;Add recordings…</source>
        <translation>&amp;Ajouter des enregistrements…</translation>
    </message>
    <message>
        <source>Or drop files or a folder on this page</source>
        <translation>Ou déposez des fichiers ou un dossier sur cette page</translation>
    </message>
    <message>
        <source>Add a &amp;folder…</source>
        <translation>Ajouter un &amp;dossier…</translation>
    </message>
    <message>
        <source>Every recording in it and up to three folders below</source>
        <translation>Chaque enregistrement qu’il contient, jusqu’à trois dossiers plus bas</translation>
    </message>
    <message>
        <source>&amp;These are right</source>
        <translation>Ceux-ci sont &amp;justes</translation>
    </message>
    <message>
        <source>What is guessed for the chosen recordings is so</source>
        <translation>Ce qui est supposé pour les enregistrements choisis est exact</translation>
    </message>
    <message>
        <source>&amp;Place of its own</source>
        <translation>&amp;Lieu à part</translation>
    </message>
    <message>
        <source>The chosen channels of a recording were somewhere else: they get a space of their own</source>
        <translation>Les voies choisies d’un enregistrement étaient ailleurs : elles reçoivent un local à elles</translation>
    </message>
    <message>
        <source>Ta&amp;ke out</source>
        <translation>&amp;Retirer</translation>
    </message>
    <message>
        <source>The chosen recordings leave the survey; their files stay where they are</source>
        <translation>Les enregistrements choisis quittent la campagne ; leurs fichiers restent où ils sont</translation>
    </message>
    <message>
        <source>A row a channel. What belongs to the whole recording changes in all its rows. Guesses say so until you change them or say that they are right.</source>
        <translation>Une ligne par voie. Ce qui appartient à tout l’enregistrement change dans toutes ses lignes. Les suppositions se signalent jusqu’à ce que vous les changiez ou les confirmiez.</translation>
    </message>
    <message>
        <source>Recordings and channels</source>
        <translation>Enregistrements et voies</translation>
    </message>
    <message>
        <source>What the chosen file says</source>
        <translation>Ce que dit le fichier choisi</translation>
    </message>
    <message>
        <source>Recordings</source>
        <translation>Enregistrements</translation>
    </message>
    <message>
        <source>Folder of recordings</source>
        <translation>Dossier des enregistrements</translation>
    </message>
    <message>
        <source>&amp;Add</source>
        <translation>&amp;Ajouter</translation>
    </message>
    <message>
        <source>Add to %1</source>
        <translation>Ajouter à : %1</translation>
    </message>
    <message>
        <source>Take out of %1</source>
        <translation>Retirer de : %1</translation>
    </message>
    <message>
        <source>The chosen rows; refused while something names one of them</source>
        <translation>Les lignes choisies ; refusé tant que quelque chose nomme l’une d’elles</translation>
    </message>
    <message>
        <source>Title of the survey</source>
        <translation>Titre de la campagne</translation>
    </message>
    <message>
        <source>Setting of the survey</source>
        <translation>Cadre de la campagne</translation>
    </message>
    <message>
        <source>Client of the survey</source>
        <translation>Client de la campagne</translation>
    </message>
    <message>
        <source>note</source>
        <translation>note</translation>
    </message>
    <message>
        <source>Note of the survey</source>
        <translation>Note de la campagne</translation>
    </message>
    <message>
        <source>&amp;Title</source>
        <translation>&amp;Titre</translation>
    </message>
    <message>
        <source>S&amp;etting</source>
        <translation>&amp;Cadre</translation>
    </message>
    <message>
        <source>&amp;Client</source>
        <translation>C&amp;lient</translation>
    </message>
    <message>
        <source>&amp;Note</source>
        <translation>&amp;Note</translation>
    </message>
    <message>
        <source>title</source>
        <translation>titre</translation>
    </message>
    <message>
        <source>client</source>
        <translation>client</translation>
    </message>
    <message>
        <source>setting</source>
        <translation>cadre</translation>
    </message>
    <message>
        <source>&amp;Recordings</source>
        <translation>&amp;Enregistrements</translation>
    </message>
    <message>
        <source>S&amp;paces</source>
        <translation>&amp;Locaux</translation>
    </message>
    <message>
        <source>C&amp;onditions</source>
        <translation>C&amp;onditions</translation>
    </message>
    <message>
        <source>Se&amp;nsors</source>
        <translation>Ca&amp;pteurs</translation>
    </message>
    <message>
        <source>Sour&amp;ces</source>
        <translation>&amp;Sources</translation>
    </message>
    <message>
        <source>No recordings yet: add some, or drop them here.</source>
        <translation>Pas encore d’enregistrements : ajoutez-en, ou déposez-les ici.</translation>
    </message>
    <message>
        <source>The survey file has faults; mend them before recordings are added.</source>
        <translation>Le fichier de campagne a des fautes ; corrigez-les avant d’ajouter des enregistrements.</translation>
    </message>
    <message numerus="yes">
        <source>addition of %n recording(s)</source>
        <translation>
            <numerusform>ajout de %n enregistrement</numerusform>
            <numerusform>ajout de %n enregistrements</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>becalm::desktop::HelpSheet</name>
    <message>
        <source>On the curves of When</source>
        <translation>Sur les courbes de « Quand »</translation>
    </message>
    <message>
        <source>look closer, or at more</source>
        <translation>regarder de plus près, ou plus large</translation>
    </message>
    <message>
        <source>move along the recording; with Ctrl the arrows move the cursor</source>
        <translation>se déplacer dans l’enregistrement ; avec Ctrl les flèches déplacent le curseur</translation>
    </message>
    <message>
        <source>leave the selected span out</source>
        <translation>écarter l’intervalle choisi</translation>
    </message>
    <message>
        <source>play as sound, or stop; held down while dragging it moves the curve</source>
        <translation>écouter comme un son, ou arrêter ; maintenue en glissant, elle déplace la courbe</translation>
    </message>
    <message>
        <source>Comfort evaluation is not a structural, machinery or health assessment. Limits come from the editions cited; local codes, contracts and licensed practice prevail.</source>
        <translation>L’évaluation du confort n’est pas une évaluation des structures, des machines ni de la santé. Les limites viennent des éditions citées ; les règles locales, les contrats et l’avis du praticien habilité priment.</translation>
    </message>
    <message>
        <source>&amp;Back to the survey</source>
        <translation>&amp;Retour à la campagne</translation>
    </message>
    <message>
        <source>In a figure</source>
        <translation>Dans une figure</translation>
    </message>
    <message>
        <source>move the cursor and read the values under it; with Ctrl in large steps</source>
        <translation>déplacer le curseur et lire les valeurs sous lui ; avec Ctrl à grands pas</translation>
    </message>
    <message>
        <source>write the figure to a file</source>
        <translation>écrire la figure dans un fichier</translation>
    </message>
    <message>
        <source>Everywhere</source>
        <translation>Partout</translation>
    </message>
    <message>
        <source>go to the next field; with Shift to the one before</source>
        <translation>aller au champ suivant ; avec Maj au précédent</translation>
    </message>
    <message>
        <source>press what has the focus</source>
        <translation>actionner ce qui a le focus</translation>
    </message>
    <message>
        <source>open what is chosen in a list</source>
        <translation>ouvrir ce qui est choisi dans une liste</translation>
    </message>
    <message>
        <source>go to the menus; Alt with an underlined letter opens one</source>
        <translation>aller aux menus ; Alt avec une lettre soulignée en ouvre un</translation>
    </message>
    <message>
        <source>Keys</source>
        <translation>Touches</translation>
    </message>
    <message>
        <source>From vibration recordings to a judgement of human comfort that another engineer can check to the last digit.</source>
        <translation>Des enregistrements de vibrations à un jugement du confort humain qu’un autre ingénieur peut vérifier jusqu’au dernier chiffre.</translation>
    </message>
    <message>
        <source>Version %1</source>
        <translation>Version %1</translation>
    </message>
    <message>
        <source>Cautions</source>
        <translation>Réserves</translation>
    </message>
    <message>
        <source>Numbers marked &quot;from memory&quot; were not compared with the publication: compare them with your copy before you sign.</source>
        <translation>Les nombres marqués « from memory » n’ont pas été comparés à la publication : comparez-les à votre exemplaire avant de signer.</translation>
    </message>
    <message>
        <source>Where a health action value is exceeded, the employer has duties. A physician or a licensed hygienist decides about people.</source>
        <translation>Quand une valeur d’action pour la santé est dépassée, l’employeur a des obligations. C’est un médecin ou un hygiéniste habilité qui décide pour les personnes.</translation>
    </message>
    <message>
        <source>An uncertainty (k = 2) is stated where the survey states that of the sensor; the verdict says what it does not cover.</source>
        <translation>Une incertitude (k = 2) est donnée là où la campagne indique celle du capteur ; le verdict dit ce qu’elle ne couvre pas.</translation>
    </message>
    <message>
        <source>Licence</source>
        <translation>Licence</translation>
    </message>
    <message>
        <source>Becalm is free software under the GNU General Public License, version 3 or later. It comes without any warranty. You may use it, study it, change it and pass it on under the same terms; the licence lies beside the program&apos;s documents.</source>
        <translation>Becalm est un logiciel libre sous la licence publique générale GNU, version 3 ou ultérieure, sans aucune garantie. Vous pouvez l’utiliser, l’étudier, le modifier et le transmettre aux mêmes conditions ; la licence se trouve avec les documents du programme.</translation>
    </message>
    <message>
        <source>Libraries</source>
        <translation>Bibliothèques</translation>
    </message>
    <message>
        <source>About Becalm</source>
        <translation>À propos de Becalm</translation>
    </message>
    <message>
        <source>Qt %1 (LGPL 3), poppler, PortAudio, FFTW, Eigen, libsndfile, toml++, nlohmann/json, {fmt}, tl::expected, OpenSSL&apos;s libcrypto, xxHash.</source>
        <translation>Qt %1 (LGPL 3), poppler, PortAudio, FFTW, Eigen, libsndfile, toml++, nlohmann/json, {fmt}, tl::expected, libcrypto d’OpenSSL, xxHash.</translation>
    </message>
</context>
<context>
    <name>becalm::desktop::HowMuchPage</name>
    <message>
        <source>Rulers or two conditions</source>
        <translation>Échelles ou deux conditions</translation>
    </message>
    <message>
        <source>&amp;Values</source>
        <translation>&amp;Valeurs</translation>
    </message>
    <message>
        <source>Two &amp;conditions</source>
        <translation>Deux &amp;conditions</translation>
    </message>
    <message>
        <source>Which verdicts are shown</source>
        <translation>Quels verdicts sont montrés</translation>
    </message>
    <message>
        <source>every verdict of this space</source>
        <translation>chaque verdict de ce local</translation>
    </message>
    <message>
        <source>every space by this criterion</source>
        <translation>chaque local selon ce critère</translation>
    </message>
    <message>
        <source>every verdict of the survey</source>
        <translation>chaque verdict de la campagne</translation>
    </message>
    <message>
        <source>Copy the &amp;table</source>
        <translation>Copier le &amp;tableau</translation>
    </message>
    <message>
        <source>Copy the table of verdicts</source>
        <translation>Copier le tableau des verdicts</translation>
    </message>
    <message>
        <source>For a spreadsheet: every verdict shown here (Ctrl+Shift+C)</source>
        <translation>Pour un tableur : chaque verdict montré ici (Ctrl+Maj+C)</translation>
    </message>
    <message>
        <source>About the verdicts</source>
        <translation>Sur les verdicts</translation>
    </message>
    <message>
        <source>What the verdict rests on</source>
        <translation>Sur quoi repose le verdict</translation>
    </message>
    <message>
        <source>The survey is being judged…</source>
        <translation>La campagne est en cours de jugement…</translation>
    </message>
    <message>
        <source>There is no verdict yet. Tick a criterion at the right.</source>
        <translation>Il n’y a pas encore de verdict. Cochez un critère à droite.</translation>
    </message>
    <message>
        <source>There is no verdict of this space: nothing was recorded there, or no criterion that is ticked looks at it.</source>
        <translation>Il n’y a pas de verdict sur ce local : rien n’y a été enregistré, ou aucun critère coché ne le considère.</translation>
    </message>
</context>
<context>
    <name>becalm::desktop::LookMenu</name>
    <message>
        <source>&amp;View</source>
        <translation>&amp;Affichage</translation>
    </message>
    <message>
        <source>&amp;Colours</source>
        <translation>&amp;Couleurs</translation>
    </message>
    <message>
        <source>As the &amp;system</source>
        <translation>Comme le &amp;système</translation>
    </message>
    <message>
        <source>&amp;Light</source>
        <translation>C&amp;lair</translation>
    </message>
    <message>
        <source>&amp;Dark</source>
        <translation>S&amp;ombre</translation>
    </message>
    <message>
        <source>&amp;High contrast</source>
        <translation>&amp;Fort contraste</translation>
    </message>
    <message>
        <source>&amp;Text size</source>
        <translation>&amp;Taille du texte</translation>
    </message>
    <message>
        <source>%1 %</source>
        <translation>%1 %</translation>
    </message>
    <message>
        <source>&amp;Larger</source>
        <translation>Plus &amp;grand</translation>
    </message>
    <message>
        <source>&amp;Smaller</source>
        <translation>Plus &amp;petit</translation>
    </message>
    <message>
        <source>&amp;As the system</source>
        <translation>&amp;Comme le système</translation>
    </message>
    <message>
        <source>&amp;Language</source>
        <translation>&amp;Langue</translation>
    </message>
</context>
<context>
    <name>becalm::desktop::MainWindow</name>
    <message>
        <source>Folder of recordings</source>
        <translation>Dossier des enregistrements</translation>
    </message>
    <message>
        <source>Survey</source>
        <translation>Campagne</translation>
    </message>
    <message>
        <source>Surveys (*.toml)</source>
        <translation>Campagnes (*.toml)</translation>
    </message>
    <message>
        <source>Folder in which to put the demo</source>
        <translation>Dossier où mettre l’exemple</translation>
    </message>
    <message>
        <source>Values under the cursor</source>
        <translation>Valeurs sous le curseur</translation>
    </message>
    <message>
        <source>State of the survey file</source>
        <translation>État du fichier de campagne</translation>
    </message>
    <message>
        <source>Time left</source>
        <translation>Temps restant</translation>
    </message>
    <message>
        <source>Progress</source>
        <translation>Progression</translation>
    </message>
    <message>
        <source>Stop</source>
        <translation>Arrêter</translation>
    </message>
    <message>
        <source>Stop what is being worked out; nothing is lost</source>
        <translation>Arrêter le calcul en cours ; rien n’est perdu</translation>
    </message>
    <message>
        <source>Stopped. What is shown is of before; Judge again goes on.</source>
        <translation>Arrêté. Ce qui est affiché date d’avant ; « Juger à nouveau » reprend.</translation>
    </message>
    <message>
        <source>Judge again</source>
        <translation>Juger à nouveau</translation>
    </message>
    <message numerus="yes">
        <source>%n s left</source>
        <translation>
            <numerusform>encore %n s</numerusform>
            <numerusform>encore %n s</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n min left</source>
        <translation>
            <numerusform>encore %n minute</numerusform>
            <numerusform>encore %n minutes</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>and %n more</source>
        <translation>
            <numerusform>et %n autre</numerusform>
            <numerusform>et %n autres</numerusform>
        </translation>
    </message>
    <message>
        <source>The survey file has faults; what is shown is of before. Mend them in an editor, or undo:
%1</source>
        <translation>Le fichier de campagne a des fautes ; ce qui est affiché date d’avant. Corrigez-les dans un éditeur, ou annulez :
%1</translation>
    </message>
    <message>
        <source>The survey could not be saved: %1. Your changes are kept and will be offered again.</source>
        <translation>La campagne n’a pas pu être enregistrée : %1. Vos modifications sont conservées et seront proposées à nouveau.</translation>
    </message>
    <message>
        <source>Try again</source>
        <translation>Réessayer</translation>
    </message>
    <message>
        <source>The survey file was changed elsewhere; the new text is shown. Undo brings yours back.</source>
        <translation>Le fichier de campagne a été modifié ailleurs ; le nouveau texte est affiché. « Annuler » rétablit le vôtre.</translation>
    </message>
    <message>
        <source>The survey file was changed elsewhere while you had unsaved changes. Nothing is lost: choose which to keep.</source>
        <translation>Le fichier de campagne a été modifié ailleurs alors que vous aviez des modifications non enregistrées. Rien n’est perdu : choisissez ce qui doit rester.</translation>
    </message>
    <message>
        <source>Take the file&apos;s</source>
        <translation>Prendre celles du fichier</translation>
    </message>
    <message>
        <source>Keep mine</source>
        <translation>Garder les miennes</translation>
    </message>
    <message>
        <source>What</source>
        <translation>Que</translation>
    </message>
    <message>
        <source>was measured?</source>
        <translation>mesure-t-on ?</translation>
    </message>
    <message>
        <source>Recordings, channels, sensors, spaces, conditions</source>
        <translation>Enregistrements, voies, capteurs, locaux, conditions</translation>
    </message>
    <message>
        <source>Where</source>
        <translation>Où</translation>
    </message>
    <message>
        <source>is it worst?</source>
        <translation>est-ce le pire ?</translation>
    </message>
    <message>
        <source>Spaces by deck, storey or vehicle, and the plan</source>
        <translation>Locaux par pont, étage ou véhicule, et le plan</translation>
    </message>
    <message>
        <source>How much</source>
        <translation>Combien</translation>
    </message>
    <message>
        <source>is it?</source>
        <translation>est-ce ?</translation>
    </message>
    <message>
        <source>Values among the bands of each criterion</source>
        <translation>Valeurs parmi les classes de chaque critère</translation>
    </message>
    <message>
        <source>When</source>
        <translation>Quand</translation>
    </message>
    <message>
        <source>does it happen?</source>
        <translation>cela arrive-t-il ?</translation>
    </message>
    <message>
        <source>Recordings over time; spans to leave out</source>
        <translation>Enregistrements dans le temps ; intervalles à écarter</translation>
    </message>
    <message>
        <source>Why</source>
        <translation>Pourquoi</translation>
    </message>
    <message>
        <source>does it shake?</source>
        <translation>cela vibre-t-il ?</translation>
    </message>
    <message>
        <source>Spectra, sources, what if</source>
        <translation>Spectres, sources, et si</translation>
    </message>
    <message>
        <source>Who</source>
        <translation>Qui</translation>
    </message>
    <message>
        <source>is exposed?</source>
        <translation>est exposé ?</translation>
    </message>
    <message>
        <source>Daily exposures of persons</source>
        <translation>Expositions journalières des personnes</translation>
    </message>
    <message>
        <source>&amp;Survey</source>
        <translation>&amp;Campagne</translation>
    </message>
    <message>
        <source>Open &amp;folder…</source>
        <translation>Ouvrir un &amp;dossier…</translation>
    </message>
    <message>
        <source>&amp;Open survey…</source>
        <translation>&amp;Ouvrir une campagne…</translation>
    </message>
    <message>
        <source>&amp;Demo…</source>
        <translation>&amp;Exemple…</translation>
    </message>
    <message>
        <source>&amp;Save now</source>
        <translation>Enregi&amp;strer maintenant</translation>
    </message>
    <message>
        <source>Write the judgement as &amp;JSON…</source>
        <translation>Écrire le jugement en &amp;JSON…</translation>
    </message>
    <message>
        <source>&amp;Close survey</source>
        <translation>&amp;Fermer la campagne</translation>
    </message>
    <message>
        <source>&amp;Quit</source>
        <translation>&amp;Quitter</translation>
    </message>
    <message>
        <source>&amp;Edit</source>
        <translation>&amp;Édition</translation>
    </message>
    <message>
        <source>Undo</source>
        <translation>Annuler</translation>
    </message>
    <message>
        <source>Redo</source>
        <translation>Rétablir</translation>
    </message>
    <message>
        <source>&amp;Help</source>
        <translation>A&amp;ide</translation>
    </message>
    <message>
        <source>&amp;Keys</source>
        <translation>&amp;Touches</translation>
    </message>
    <message>
        <source>&amp;About Becalm</source>
        <translation>À &amp;propos de Becalm</translation>
    </message>
    <message>
        <source>Questions</source>
        <translation>Questions</translation>
    </message>
    <message>
        <source>%1 is not there; name a survey, a folder or a recording</source>
        <translation>%1 n’existe pas ; nommez une campagne, un dossier ou un enregistrement</translation>
    </message>
    <message>
        <source>The last time, changes to this survey could not be saved. They were kept.</source>
        <translation>La dernière fois, des modifications de cette campagne n’ont pas pu être enregistrées. Elles ont été conservées.</translation>
    </message>
    <message>
        <source>Take them</source>
        <translation>Les reprendre</translation>
    </message>
    <message>
        <source>Drop them</source>
        <translation>Les abandonner</translation>
    </message>
    <message>
        <source>This survey was begun from the recordings in the folder. Look at each guess below, then ask where it is worst.</source>
        <translation>Cette campagne a été commencée à partir des enregistrements du dossier. Examinez chaque supposition ci-dessous, puis demandez où c’est le pire.</translation>
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
        <translation>modifié ailleurs aussi</translation>
    </message>
    <message>
        <source>not saved yet</source>
        <translation>pas encore enregistré</translation>
    </message>
    <message>
        <source>saved</source>
        <translation>enregistré</translation>
    </message>
    <message>
        <source>There is no judgement yet</source>
        <translation>Il n’y a pas encore de jugement</translation>
    </message>
    <message>
        <source>Write the judgement to</source>
        <translation>Écrire le jugement dans</translation>
    </message>
    <message>
        <source>Written to %1</source>
        <translation>Écrit dans %1</translation>
    </message>
    <message>
        <source>Judge a&amp;gain</source>
        <translation>Juger à &amp;nouveau</translation>
    </message>
    <message>
        <source>Write the judgement as CS&amp;V…</source>
        <translation>Écrire le jugement en CS&amp;V…</translation>
    </message>
    <message>
        <source>The survey could not be saved: %1. Your changes could not be kept elsewhere either: they are in this window alone. Leave it open, make room or give back the folder, and try again.</source>
        <translation>La campagne n’a pas pu être enregistrée : %1. Vos modifications n’ont pas pu être conservées ailleurs non plus : elles ne sont que dans cette fenêtre. Laissez-la ouverte, faites de la place ou rendez l’accès au dossier, et réessayez.</translation>
    </message>
    <message>
        <source>Recordings that cannot be read are not judged; the rest is. Bring them back or take them out of the survey, then judge again:</source>
        <translation>Les enregistrements illisibles ne sont pas jugés ; le reste l’est. Rétablissez-les ou retirez-les de la campagne, puis jugez à nouveau :</translation>
    </message>
    <message>
        <source>&amp;Figure</source>
        <translation>&amp;Figure</translation>
    </message>
    <message>
        <source>This page shows no figure now</source>
        <translation>Cette page ne montre pas de figure pour l’instant</translation>
    </message>
    <message>
        <source>Write a &amp;report…</source>
        <translation>Écrire un &amp;rapport…</translation>
    </message>
    <message>
        <source>Open a survey first</source>
        <translation>Ouvrez d’abord une campagne</translation>
    </message>
    <message>
        <source>The survey has changed here and elsewhere: choose which text counts, then write the report</source>
        <translation>La campagne a été modifiée ici et ailleurs : choisissez le texte qui compte, puis écrivez le rapport</translation>
    </message>
    <message>
        <source>The report was not written:</source>
        <translation>Le rapport n’a pas été écrit :</translation>
    </message>
    <message>
        <source>Report written to %1</source>
        <translation>Rapport écrit : %1</translation>
    </message>
    <message>
        <source>A recording could not be read; the report says which and why.</source>
        <translation>Un enregistrement n’a pas pu être lu ; le rapport dit lequel et pourquoi.</translation>
    </message>
    <message>
        <source>Nothing could be judged; the report says why.</source>
        <translation>Rien n’a pu être jugé ; le rapport dit pourquoi.</translation>
    </message>
    <message>
        <source>Open</source>
        <translation>Ouvrir</translation>
    </message>
</context>
<context>
    <name>becalm::desktop::Notices</name>
    <message>
        <source>Notices</source>
        <translation>Avis</translation>
    </message>
    <message>
        <source>Put this notice away</source>
        <translation>Retirer cet avis</translation>
    </message>
</context>
<context>
    <name>becalm::desktop::PeoplePage</name>
    <message>
        <source>Tasks of persons</source>
        <translation>Tâches des personnes</translation>
    </message>
    <message>
        <source>Ta&amp;ke out the chosen tasks</source>
        <translation>&amp;Retirer les tâches choisies</translation>
    </message>
    <message>
        <source>State of the results</source>
        <translation>État des résultats</translation>
    </message>
    <message>
        <source>Judged days</source>
        <translation>Jours jugés</translation>
    </message>
    <message>
        <source>Person</source>
        <translation>Personne</translation>
    </message>
    <message>
        <source>Day</source>
        <translation>Jour</translation>
    </message>
    <message>
        <source>Quantity</source>
        <translation>Grandeur</translation>
    </message>
    <message>
        <source>Value</source>
        <translation>Valeur</translation>
    </message>
    <message>
        <source>Verdict</source>
        <translation>Verdict</translation>
    </message>
    <message>
        <source>How long this work may last</source>
        <translation>Durée permise de ce travail</translation>
    </message>
    <message>
        <source>Duty to act</source>
        <translation>Obligation d’agir</translation>
    </message>
    <message>
        <source>A comfort evaluation is not a health assessment. These are the exposures of what was measured, by the editions cited; national law and the judgement of occupational health practice prevail.</source>
        <translation>Une évaluation du confort n’est pas une évaluation de la santé. Voici les expositions de ce qui a été mesuré, selon les éditions citées ; le droit national et l’avis de la santé au travail priment.</translation>
    </message>
    <message>
        <source>Caution about health</source>
        <translation>Réserve sur la santé</translation>
    </message>
    <message>
        <source>&amp;Person or job</source>
        <translation>&amp;Personne ou poste</translation>
    </message>
    <message>
        <source>Person of the new task</source>
        <translation>Personne de la nouvelle tâche</translation>
    </message>
    <message>
        <source>&amp;Day</source>
        <translation>&amp;Jour</translation>
    </message>
    <message>
        <source>Day of the new task</source>
        <translation>Jour de la nouvelle tâche</translation>
    </message>
    <message>
        <source>every day</source>
        <translation>tous les jours</translation>
    </message>
    <message>
        <source>&amp;Where</source>
        <translation>&amp;Où</translation>
    </message>
    <message>
        <source>Space of the new task</source>
        <translation>Local de la nouvelle tâche</translation>
    </message>
    <message>
        <source>Posi&amp;tion</source>
        <translation>Posi&amp;tion</translation>
    </message>
    <message>
        <source>Position of the new task</source>
        <translation>Position de la nouvelle tâche</translation>
    </message>
    <message>
        <source>&amp;Condition</source>
        <translation>&amp;Condition</translation>
    </message>
    <message>
        <source>Condition of the new task</source>
        <translation>Condition de la nouvelle tâche</translation>
    </message>
    <message>
        <source>&amp;Hours</source>
        <translation>&amp;Heures</translation>
    </message>
    <message>
        <source>Hours of the new task</source>
        <translation>Heures de la nouvelle tâche</translation>
    </message>
    <message>
        <source>&amp;Add task</source>
        <translation>A&amp;jouter la tâche</translation>
    </message>
    <message>
        <source>Publications for daily exposures</source>
        <translation>Publications sur les expositions journalières</translation>
    </message>
    <message>
        <source>&amp;Judge days by it</source>
        <translation>&amp;Juger les jours selon elle</translation>
    </message>
    <message>
        <source>criterion of daily exposure</source>
        <translation>critère d’exposition journalière</translation>
    </message>
    <message>
        <source>A task needs a person: type a name or a job.</source>
        <translation>Une tâche demande une personne : tapez un nom ou un poste.</translation>
    </message>
    <message>
        <source>A task needs its hours: type a number, such as 4,5.</source>
        <translation>Une tâche demande ses heures : tapez un nombre, par exemple 4,5.</translation>
    </message>
    <message>
        <source>No criterion of the survey judges a day at: %1.</source>
        <translation>Aucun critère de la campagne ne juge un jour à : %1.</translation>
    </message>
    <message>
        <source>Nobody&apos;s day is told yet: say above who is where for how many hours.</source>
        <translation>Le jour de personne n’est encore décrit : dites ci-dessus qui est où pendant combien d’heures.</translation>
    </message>
    <message>
        <source>Being judged; what stands below is of before.</source>
        <translation>Jugement en cours ; ce qui est ci-dessous date d’avant.</translation>
    </message>
    <message>
        <source>No day is judged.</source>
        <translation>Aucun jour n’est jugé.</translation>
    </message>
</context>
<context>
    <name>becalm::desktop::PlanPanel</name>
    <message>
        <source>Plan that is seen</source>
        <translation>Plan que l’on voit</translation>
    </message>
    <message>
        <source>Page of the plan&apos;s PDF</source>
        <translation>Page du PDF du plan</translation>
    </message>
    <message>
        <source>page </source>
        <translation>page </translation>
    </message>
    <message>
        <source>&amp;Add a plan picture…</source>
        <translation>&amp;Ajouter une image de plan…</translation>
    </message>
    <message>
        <source>A picture (PNG, JPEG), a drawing (SVG) or a page of a PDF; it stays where it is</source>
        <translation>Une image (PNG, JPEG), un dessin (SVG) ou une page d’un PDF ; elle reste où elle est</translation>
    </message>
    <message>
        <source>About the plan</source>
        <translation>Sur le plan</translation>
    </message>
    <message>
        <source>&amp;Place it on the plan</source>
        <translation>&amp;Placer sur le plan</translation>
    </message>
    <message>
        <source>Puts the chosen space in the middle of the plan; drag it to its place, or move it with Alt and the arrows</source>
        <translation>Met le local choisi au milieu du plan ; tirez-le à sa place, ou déplacez-le avec Alt et les flèches</translation>
    </message>
    <message>
        <source>Place the chosen space on the plan</source>
        <translation>Placer le local choisi sur le plan</translation>
    </message>
    <message>
        <source>&amp;Take it off</source>
        <translation>&amp;Retirer du plan</translation>
    </message>
    <message>
        <source>Take the chosen space off the plan</source>
        <translation>Retirer le local choisi du plan</translation>
    </message>
    <message>
        <source>Takes the chosen space off its plan</source>
        <translation>Retire le local choisi de son plan</translation>
    </message>
    <message>
        <source>page of a plan</source>
        <translation>page d’un plan</translation>
    </message>
    <message>
        <source>Plan picture</source>
        <translation>Image de plan</translation>
    </message>
    <message>
        <source>Plans (*.png *.jpg *.jpeg *.svg *.pdf)</source>
        <translation>Plans (*.png *.jpg *.jpeg *.svg *.pdf)</translation>
    </message>
    <message>
        <source>no verdict</source>
        <translation>pas de verdict</translation>
    </message>
    <message>
        <source> of %1</source>
        <translation> sur %1</translation>
    </message>
    <message>
        <source>There is no plan yet. Add a picture of a deck, a storey or a vehicle, then drag the spaces from the list on to it; each shows how bad it is there.</source>
        <translation>Il n’y a pas encore de plan. Ajoutez une image d’un pont, d’un étage ou d’un véhicule, puis tirez-y les locaux de la liste ; chacun montre à quel point c’est mauvais.</translation>
    </message>
    <message>
        <source>Reading the picture…</source>
        <translation>Lecture de l’image…</translation>
    </message>
    <message numerus="yes">
        <source>%n space(s) not on a plan yet: drag them here from the list.</source>
        <translation>
            <numerusform>%n local pas encore sur un plan : tirez-le ici depuis la liste.</numerusform>
            <numerusform>%n locaux pas encore sur un plan : tirez-les ici depuis la liste.</numerusform>
        </translation>
    </message>
    <message>
        <source>The picture is larger than shown here; it was read scaled down.</source>
        <translation>L’image est plus grande que montrée ici ; elle a été lue réduite.</translation>
    </message>
    <message>
        <source>add a plan</source>
        <translation>ajout d’un plan</translation>
    </message>
    <message>
        <source>place a space</source>
        <translation>placement d’un local</translation>
    </message>
    <message>
        <source>take a space off its plan</source>
        <translation>retrait d’un local de son plan</translation>
    </message>
</context>
<context>
    <name>becalm::desktop::PlanPicture</name>
    <message>
        <source>The plan %1 cannot be shown: %2; %3</source>
        <translation>Le plan %1 ne peut être montré : %2 ; %3</translation>
    </message>
    <message>
        <source>its %1 × %2 px are too many</source>
        <translation>ses %1 × %2 pixels sont trop nombreux</translation>
    </message>
    <message>
        <source>save it with fewer pixels, or as a PDF</source>
        <translation>enregistrez-le avec moins de pixels, ou en PDF</translation>
    </message>
    <message>
        <source>save it anew as PNG, SVG or PDF</source>
        <translation>enregistrez-le à nouveau en PNG, SVG ou PDF</translation>
    </message>
    <message>
        <source>it is no drawing of a sensible size</source>
        <translation>ce n’est pas un dessin de taille raisonnable</translation>
    </message>
    <message>
        <source>save it as a PNG</source>
        <translation>enregistrez-le en PNG</translation>
    </message>
    <message>
        <source>it is no SVG drawing</source>
        <translation>ce n’est pas un dessin SVG</translation>
    </message>
    <message>
        <source>save it anew as SVG or PNG</source>
        <translation>enregistrez-le à nouveau en SVG ou PNG</translation>
    </message>
    <message>
        <source>it has no size</source>
        <translation>il n’a pas de taille</translation>
    </message>
    <message>
        <source>give it a viewBox</source>
        <translation>donnez-lui une viewBox</translation>
    </message>
    <message>
        <source>it is no PDF</source>
        <translation>ce n’est pas un PDF</translation>
    </message>
    <message>
        <source>save it anew as PDF or PNG</source>
        <translation>enregistrez-le à nouveau en PDF ou PNG</translation>
    </message>
    <message>
        <source>it asks for a password</source>
        <translation>il demande un mot de passe</translation>
    </message>
    <message>
        <source>save it without one, or as a PNG</source>
        <translation>enregistrez-le sans, ou en PNG</translation>
    </message>
    <message>
        <source>The plan %1 has no page %2; it has %3, so choose one of them</source>
        <translation>Le plan %1 n’a pas de page %2 ; il en a %3, choisissez l’une d’elles</translation>
    </message>
    <message>
        <source>its page has no size</source>
        <translation>sa page n’a pas de taille</translation>
    </message>
    <message>
        <source>its page cannot be painted</source>
        <translation>sa page ne peut être dessinée</translation>
    </message>
    <message>
        <source>there is no such file</source>
        <translation>ce fichier n’existe pas</translation>
    </message>
    <message>
        <source>put it there, or name another in its [[plan]]</source>
        <translation>mettez-le là, ou nommez-en un autre dans son [[plan]]</translation>
    </message>
    <message>
        <source>it is no file that may be read</source>
        <translation>ce n’est pas un fichier lisible</translation>
    </message>
    <message>
        <source>see to its permissions</source>
        <translation>vérifiez ses droits d’accès</translation>
    </message>
</context>
<context>
    <name>becalm::desktop::PlanView</name>
    <message>
        <source>Plan with the spaces</source>
        <translation>Plan avec les locaux</translation>
    </message>
</context>
<context>
    <name>becalm::desktop::ReportDialog</name>
    <message>
        <source>Report</source>
        <translation>Rapport</translation>
    </message>
    <message>
        <source>The judgement as a document with figures, causes and cures, uncertainty, and an appendix from which every value can be computed again. The survey is judged anew from its recordings.</source>
        <translation>Le jugement sous forme de document : figures, causes et remèdes, incertitude, et une annexe à partir de laquelle chaque valeur peut être recalculée. La campagne est jugée à nouveau à partir de ses enregistrements.</translation>
    </message>
    <message>
        <source>&amp;File</source>
        <translation>&amp;Fichier</translation>
    </message>
    <message>
        <source>File of the report</source>
        <translation>Fichier du rapport</translation>
    </message>
    <message>
        <source>Choose…</source>
        <translation>Choisir…</translation>
    </message>
    <message>
        <source>Choose the file of the report</source>
        <translation>Choisir le fichier du rapport</translation>
    </message>
    <message>
        <source>Write the report to</source>
        <translation>Écrire le rapport dans</translation>
    </message>
    <message>
        <source>Page for a browser (*.html)</source>
        <translation>Page pour un navigateur (*.html)</translation>
    </message>
    <message>
        <source>Pages to print (*.pdf)</source>
        <translation>Pages à imprimer (*.pdf)</translation>
    </message>
    <message>
        <source>A name that ends with .pdf makes a PDF, any other one HTML file that stands by itself</source>
        <translation>Un nom qui finit par .pdf donne un PDF, tout autre un fichier HTML autonome</translation>
    </message>
    <message>
        <source>Language of the report</source>
        <translation>Langue du rapport</translation>
    </message>
    <message>
        <source>La&amp;nguage</source>
        <translation>&amp;Langue</translation>
    </message>
    <message>
        <source>&amp;Letterhead</source>
        <translation>En-&amp;tête</translation>
    </message>
    <message>
        <source>Folder of the letterhead</source>
        <translation>Dossier de l’en-tête</translation>
    </message>
    <message>
        <source>Choose the folder of the letterhead</source>
        <translation>Choisir le dossier de l’en-tête</translation>
    </message>
    <message>
        <source>A folder with logo.svg or logo.png, header.txt and closing.txt; may be empty</source>
        <translation>Un dossier avec logo.svg ou logo.png, header.txt et closing.txt ; peut rester vide</translation>
    </message>
    <message>
        <source>none</source>
        <translation>aucun</translation>
    </message>
    <message>
        <source>&amp;Date</source>
        <translation>&amp;Date</translation>
    </message>
    <message>
        <source>Date of the report</source>
        <translation>Date du rapport</translation>
    </message>
    <message>
        <source>As 2026-03-14; empty: the day of the latest recording</source>
        <translation>Comme 2026-03-14 ; vide : le jour du dernier enregistrement</translation>
    </message>
    <message>
        <source>that of the latest recording</source>
        <translation>celle du dernier enregistrement</translation>
    </message>
    <message>
        <source>&amp;Write</source>
        <translation>É&amp;crire</translation>
    </message>
    <message>
        <source>&amp;Cancel</source>
        <translation>&amp;Annuler</translation>
    </message>
</context>
<context>
    <name>becalm::desktop::RulersColumn</name>
    <message>
        <source>The %1 worst of %2 are shown; the table has them all.</source>
        <translation>Les %1 pires sur %2 sont montrés ; le tableau les a tous.</translation>
    </message>
</context>
<context>
    <name>becalm::desktop::SourcesPanel</name>
    <message>
        <source>r/min</source>
        <translation>tr/min</translation>
    </message>
    <message>
        <source>Sources and their speeds</source>
        <translation>Sources et leurs vitesses</translation>
    </message>
    <message>
        <source>Source</source>
        <translation>Source</translation>
    </message>
    <message>
        <source>Kind</source>
        <translation>Genre</translation>
    </message>
    <message>
        <source>Speed tried</source>
        <translation>Vitesse essayée</translation>
    </message>
    <message>
        <source>In the survey</source>
        <translation>Dans la campagne</translation>
    </message>
    <message>
        <source>Lines</source>
        <translation>Raies</translation>
    </message>
    <message>
        <source>What trying a speed does</source>
        <translation>Ce que fait l’essai d’une vitesse</translation>
    </message>
    <message>
        <source>Put &amp;back</source>
        <translation>Re&amp;mettre</translation>
    </message>
    <message>
        <source>Show the speeds as the survey has them</source>
        <translation>Montrer les vitesses telles que la campagne les donne</translation>
    </message>
    <message>
        <source>&amp;Write to the survey</source>
        <translation>&amp;Écrire dans la campagne</translation>
    </message>
    <message>
        <source>Make the speeds that are tried those of the survey; Undo takes it back</source>
        <translation>Faire des vitesses essayées celles de la campagne ; « Annuler » revient en arrière</translation>
    </message>
    <message>
        <source>%1: %2</source>
        <translation>%1 : %2</translation>
    </message>
    <message>
        <source>%1, of the condition %2</source>
        <translation>%1, de la condition %2</translation>
    </message>
    <message>
        <source>%1 Hz</source>
        <translation>%1 Hz</translation>
    </message>
    <message>
        <source>The survey names no sources; add them on the page What, and every component that fits is named.</source>
        <translation>La campagne ne nomme aucune source ; ajoutez-les sur la page Que, et chaque composante qui convient sera nommée.</translation>
    </message>
    <message>
        <source>Lines lie where the speeds tried would put them. Nothing is judged by them: write them to the survey to have the components named anew.</source>
        <translation>Les raies sont là où les mettraient les vitesses essayées. Rien n’est jugé d’après elles : écrivez-les dans la campagne pour que les composantes soient renommées.</translation>
    </message>
    <message>
        <source>Type a speed, or draw a line of the spectrum to where it belongs: all lines of the source follow.</source>
        <translation>Tapez une vitesse, ou tirez une raie du spectre à sa place : toutes les raies de la source suivent.</translation>
    </message>
    <message>
        <source>“%1” is no speed of %2; give a number above 0, such as 166,5</source>
        <translation>« %1 » n’est pas une vitesse de %2 ; donnez un nombre supérieur à 0, par exemple 166,5</translation>
    </message>
</context>
<context>
    <name>becalm::desktop::SpaceGroups</name>
    <message>
        <source>group</source>
        <translation>groupe</translation>
    </message>
    <message>
        <source>space</source>
        <translation>local</translation>
    </message>
    <message>
        <source>use</source>
        <translation>usage</translation>
    </message>
    <message>
        <source>position</source>
        <translation>position</translation>
    </message>
    <message>
        <source>condition</source>
        <translation>condition</translation>
    </message>
    <message>
        <source>criterion</source>
        <translation>critère</translation>
    </message>
    <message>
        <source>value</source>
        <translation>valeur</translation>
    </message>
    <message>
        <source>± (k = 2)</source>
        <translation>± (k = 2)</translation>
    </message>
    <message>
        <source>unit</source>
        <translation>unité</translation>
    </message>
    <message>
        <source>band</source>
        <translation>classe</translation>
    </message>
    <message>
        <source>place</source>
        <translation>rang</translation>
    </message>
    <message>
        <source>exceeded</source>
        <translation>dépassé</translation>
    </message>
    <message>
        <source>distance</source>
        <translation>distance</translation>
    </message>
    <message>
        <source>why it cannot be judged</source>
        <translation>pourquoi ce n’est pas jugeable</translation>
    </message>
    <message>
        <source>yes</source>
        <translation>oui</translation>
    </message>
    <message>
        <source>no</source>
        <translation>non</translation>
    </message>
</context>
<context>
    <name>becalm::desktop::SpaceList</name>
    <message>
        <source>Search</source>
        <translation>Chercher</translation>
    </message>
    <message>
        <source>Search the spaces</source>
        <translation>Chercher dans les locaux</translation>
    </message>
    <message>
        <source>Use of the spaces shown</source>
        <translation>Usage des locaux montrés</translation>
    </message>
    <message>
        <source>Verdicts shown</source>
        <translation>Verdicts montrés</translation>
    </message>
    <message>
        <source>every verdict</source>
        <translation>tous les verdicts</translation>
    </message>
    <message>
        <source>exceeded</source>
        <translation>dépassé</translation>
    </message>
    <message>
        <source>cannot be judged</source>
        <translation>ne peut être jugé</translation>
    </message>
    <message>
        <source>near a limit (within the uncertainty)</source>
        <translation>près d’une limite (dans l’incertitude)</translation>
    </message>
    <message>
        <source>Spaces, the worst first</source>
        <translation>Locaux, le pire d’abord</translation>
    </message>
    <message>
        <source>How many spaces</source>
        <translation>Combien de locaux</translation>
    </message>
    <message>
        <source>Why it cannot be judged</source>
        <translation>Pourquoi ce n’est pas jugeable</translation>
    </message>
    <message>
        <source>any use</source>
        <translation>tout usage</translation>
    </message>
    <message>
        <source>No space passes the filters.</source>
        <translation>Aucun local ne passe les filtres.</translation>
    </message>
    <message>
        <source>Copy the table</source>
        <translation>Copier le tableau</translation>
    </message>
    <message>
        <source>How much is it?</source>
        <translation>Combien est-ce ?</translation>
    </message>
    <message>
        <source>Worst first</source>
        <translation>Le pire d’abord</translation>
    </message>
    <message>
        <source>Spaces: %1; exceeded: %2; with a verdict that cannot be reached: %3</source>
        <translation>Espaces : %1 ; dépassés : %2 ; avec un verdict impossible : %3</translation>
    </message>
</context>
<context>
    <name>becalm::desktop::SpaceTreeModel</name>
    <message>
        <source>no group</source>
        <translation>sans groupe</translation>
    </message>
    <message>
        <source>%1 (%2)</source>
        <translation>%1 (%2)</translation>
    </message>
    <message>
        <source>no verdict</source>
        <translation>pas de verdict</translation>
    </message>
    <message>
        <source>band %1 of %2</source>
        <translation>classe %1 sur %2</translation>
    </message>
    <message>
        <source>Space</source>
        <translation>Local</translation>
    </message>
    <message>
        <source>Use</source>
        <translation>Usage</translation>
    </message>
    <message>
        <source>Worst value</source>
        <translation>Pire valeur</translation>
    </message>
    <message>
        <source>Band</source>
        <translation>Classe</translation>
    </message>
    <message>
        <source>To the limit</source>
        <translation>Jusqu’à la limite</translation>
    </message>
    <message>
        <source>Criterion</source>
        <translation>Critère</translation>
    </message>
    <message>
        <source>Condition</source>
        <translation>Condition</translation>
    </message>
    <message numerus="yes">
        <source>; %n more cannot be judged</source>
        <translation>
            <numerusform>; %n autre non jugeable</numerusform>
            <numerusform>; %n autres non jugeables</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>becalm::desktop::SpanEditor</name>
    <message>
        <source>Span from, seconds</source>
        <translation>Intervalle depuis, secondes</translation>
    </message>
    <message>
        <source>Span to, seconds</source>
        <translation>Intervalle jusqu’à, secondes</translation>
    </message>
    <message>
        <source>Seconds from the first sample</source>
        <translation>Secondes depuis le premier échantillon</translation>
    </message>
    <message>
        <source>Reason, or name of the event</source>
        <translation>Raison, ou nom de l’événement</translation>
    </message>
    <message>
        <source>door slam</source>
        <translation>porte claquée</translation>
    </message>
    <message>
        <source>footsteps beside the sensor</source>
        <translation>pas près du capteur</translation>
    </message>
    <message>
        <source>sensor knocked</source>
        <translation>capteur heurté</translation>
    </message>
    <message>
        <source>cable moved</source>
        <translation>câble déplacé</translation>
    </message>
    <message>
        <source>sensor not yet in place</source>
        <translation>capteur pas encore en place</translation>
    </message>
    <message>
        <source>machine not in service</source>
        <translation>machine hors service</translation>
    </message>
    <message>
        <source>work nearby</source>
        <translation>travaux à proximité</translation>
    </message>
    <message>
        <source>Why is it left out?</source>
        <translation>Pourquoi est-il écarté ?</translation>
    </message>
    <message>
        <source>Leave out</source>
        <translation>Écarter</translation>
    </message>
    <message>
        <source>Every second that the span touches is left out of the judgement</source>
        <translation>Chaque seconde que touche l’intervalle est écartée du jugement</translation>
    </message>
    <message>
        <source>Is an event</source>
        <translation>Est un événement</translation>
    </message>
    <message>
        <source>Where a recording lists events, they alone are judged, one by one</source>
        <translation>Quand un enregistrement liste des événements, eux seuls sont jugés, un par un</translation>
    </message>
    <message>
        <source>Never mind</source>
        <translation>Laisser</translation>
    </message>
    <message>
        <source>s to</source>
        <translation>s à</translation>
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
        <translation>événement</translation>
    </message>
    <message>
        <source>left out</source>
        <translation>écarté</translation>
    </message>
    <message>
        <source>What</source>
        <translation>Que</translation>
    </message>
    <message>
        <source>From, s</source>
        <translation>De, s</translation>
    </message>
    <message>
        <source>To, s</source>
        <translation>À, s</translation>
    </message>
    <message>
        <source>Reason</source>
        <translation>Raison</translation>
    </message>
</context>
<context>
    <name>becalm::desktop::SpectrumControls</name>
    <message>
        <source>A&amp;xis</source>
        <translation>A&amp;xe</translation>
    </message>
    <message>
        <source>Axis of the spectrum</source>
        <translation>Axe du spectre</translation>
    </message>
    <message>
        <source>Motion shown</source>
        <translation>Mouvement montré</translation>
    </message>
    <message>
        <source>Density or amplitude</source>
        <translation>Densité ou amplitude</translation>
    </message>
    <message>
        <source>in</source>
        <translation>en</translation>
    </message>
    <message>
        <source>Unit</source>
        <translation>Unité</translation>
    </message>
    <message>
        <source>over</source>
        <translation>sur</translation>
    </message>
    <message>
        <source>Frequency axis</source>
        <translation>Axe des fréquences</translation>
    </message>
    <message>
        <source>acceleration</source>
        <translation>accélération</translation>
    </message>
    <message>
        <source>velocity</source>
        <translation>vitesse vibratoire</translation>
    </message>
    <message>
        <source>displacement</source>
        <translation>déplacement</translation>
    </message>
    <message>
        <source>density</source>
        <translation>densité</translation>
    </message>
    <message>
        <source>amplitude, r.m.s.</source>
        <translation>amplitude, valeur efficace</translation>
    </message>
    <message>
        <source>logarithmic Hz</source>
        <translation>Hz logarithmiques</translation>
    </message>
    <message>
        <source>linear Hz</source>
        <translation>Hz linéaires</translation>
    </message>
</context>
<context>
    <name>becalm::desktop::StartPage</name>
    <message>
        <source>What did you measure?</source>
        <translation>Qu’avez-vous mesuré ?</translation>
    </message>
    <message>
        <source>Drop a folder of recordings, recordings or a survey on this window, or begin here. A folder without a survey gets one, with guesses that say they are guesses.</source>
        <translation>Déposez un dossier d’enregistrements, des enregistrements ou une campagne sur cette fenêtre, ou commencez ici. Un dossier sans campagne en reçoit une, avec des suppositions qui se donnent pour telles.</translation>
    </message>
    <message>
        <source>Open a &amp;folder of recordings…</source>
        <translation>Ouvrir un &amp;dossier d’enregistrements…</translation>
    </message>
    <message>
        <source>Uses the survey in it, or begins one</source>
        <translation>Utilise la campagne qui s’y trouve, ou en commence une</translation>
    </message>
    <message>
        <source>Open a &amp;survey…</source>
        <translation>&amp;Ouvrir une campagne…</translation>
    </message>
    <message>
        <source>A survey.toml that you have</source>
        <translation>Un survey.toml que vous avez</translation>
    </message>
    <message>
        <source>Look at the &amp;demo</source>
        <translation>&amp;Regarder l’exemple</translation>
    </message>
    <message>
        <source>Writes an invented ferry and its terminal into a folder that you choose</source>
        <translation>Écrit un bac inventé et sa gare maritime dans un dossier de votre choix</translation>
    </message>
    <message>
        <source>&amp;Go on with</source>
        <translation>&amp;Poursuivre avec</translation>
    </message>
    <message>
        <source>Surveys that were open</source>
        <translation>Campagnes qui étaient ouvertes</translation>
    </message>
    <message>
        <source>%1 (not there now)</source>
        <translation>%1 (absent pour l’instant)</translation>
    </message>
</context>
<context>
    <name>becalm::desktop::SubjectLine</name>
    <message>
        <source>&amp;In</source>
        <translation>&amp;Dans</translation>
    </message>
    <message>
        <source>Space or person that is looked at</source>
        <translation>Local ou personne que l’on regarde</translation>
    </message>
    <message>
        <source>on the</source>
        <translation>à l’endroit</translation>
    </message>
    <message>
        <source>Position that is looked at</source>
        <translation>Position que l’on regarde</translation>
    </message>
    <message>
        <source>during</source>
        <translation>pendant</translation>
    </message>
    <message>
        <source>Condition that is looked at</source>
        <translation>Condition que l’on regarde</translation>
    </message>
    <message>
        <source>judged by</source>
        <translation>jugé selon</translation>
    </message>
    <message>
        <source>Criterion that is looked at</source>
        <translation>Critère que l’on regarde</translation>
    </message>
    <message>
        <source>Verdict of what is looked at</source>
        <translation>Verdict sur ce que l’on regarde</translation>
    </message>
    <message>
        <source>the worst space</source>
        <translation>le pire local</translation>
    </message>
    <message>
        <source>worst position</source>
        <translation>pire position</translation>
    </message>
    <message>
        <source>the worst condition</source>
        <translation>la pire condition</translation>
    </message>
    <message>
        <source>every criterion</source>
        <translation>tous les critères</translation>
    </message>
</context>
<context>
    <name>becalm::desktop::SurveyDocument</name>
    <message>
        <source>change made elsewhere</source>
        <translation>modification faite ailleurs</translation>
    </message>
    <message>
        <source>unsaved changes of the last time</source>
        <translation>modifications non enregistrées de la dernière fois</translation>
    </message>
</context>
<context>
    <name>becalm::desktop::SurveyGrid</name>
    <message numerus="yes">
        <source>paste of %n row(s)</source>
        <translation>
            <numerusform>collage de %n ligne</numerusform>
            <numerusform>collage de %n lignes</numerusform>
        </translation>
    </message>
    <message>
        <source>fill down</source>
        <translation>recopie vers le bas</translation>
    </message>
    <message>
        <source>emptied cells</source>
        <translation>cellules vidées</translation>
    </message>
    <message>
        <source>&amp;Copy</source>
        <translation>&amp;Copier</translation>
    </message>
    <message>
        <source>&amp;Paste</source>
        <translation>C&amp;oller</translation>
    </message>
    <message>
        <source>&amp;Fill down</source>
        <translation>&amp;Recopier vers le bas</translation>
    </message>
    <message>
        <source>&amp;Empty</source>
        <translation>&amp;Vider</translation>
    </message>
</context>
<context>
    <name>becalm::desktop::SurveyTable</name>
    <message>
        <source>%1 (guess)</source>
        <translation>%1 (supposé)</translation>
    </message>
    <message>
        <source>edit of %1</source>
        <translation>modification : %1</translation>
    </message>
    <message>
        <source>&quot;%1&quot; is no number</source>
        <translation>« %1 » n’est pas un nombre</translation>
    </message>
    <message>
        <source>type digits, with a comma or a point before the decimals</source>
        <translation>tapez des chiffres, avec une virgule ou un point avant les décimales</translation>
    </message>
</context>
<context>
    <name>becalm::desktop::TaskModel</name>
    <message>
        <source>as measured</source>
        <translation>comme mesuré</translation>
    </message>
    <message>
        <source>all measured</source>
        <translation>tout le mesuré</translation>
    </message>
    <message>
        <source>the block has more rows than there are below</source>
        <translation>le bloc a plus de lignes qu’il n’y en a dessous</translation>
    </message>
    <message>
        <source>add the tasks first</source>
        <translation>ajoutez d’abord les tâches</translation>
    </message>
    <message>
        <source>new task</source>
        <translation>nouvelle tâche</translation>
    </message>
    <message>
        <source>removal of a task</source>
        <translation>retrait d’une tâche</translation>
    </message>
</context>
<context>
    <name>becalm::desktop::TimeView</name>
    <message>
        <source>event</source>
        <translation>événement</translation>
    </message>
</context>
<context>
    <name>becalm::desktop::VerdictDetails</name>
    <message>
        <source>From the axes to the value</source>
        <translation>Des axes à la valeur</translation>
    </message>
    <message>
        <source>axis</source>
        <translation>axe</translation>
    </message>
    <message>
        <source>weighting</source>
        <translation>pondération</translation>
    </message>
    <message>
        <source>factor</source>
        <translation>facteur</translation>
    </message>
    <message>
        <source>value</source>
        <translation>valeur</translation>
    </message>
    <message>
        <source>judged</source>
        <translation>jugé</translation>
    </message>
    <message>
        <source>, %1 h</source>
        <translation>, %1 h</translation>
    </message>
    <message>
        <source>, %1 events</source>
        <translation>, %1 événements</translation>
    </message>
    <message>
        <source>, in hours of rest</source>
        <translation>, en heures de repos</translation>
    </message>
    <message>
        <source>Parts that add up</source>
        <translation>Parts qui s’ajoutent</translation>
    </message>
    <message>
        <source>Value</source>
        <translation>Valeur</translation>
    </message>
    <message>
        <source> (k = 2)</source>
        <translation> (k = 2)</translation>
    </message>
    <message>
        <source>, uncertainty not stated</source>
        <translation>, incertitude non donnée</translation>
    </message>
    <message>
        <source> (band %1 of %2)</source>
        <translation> (classe %1 sur %2)</translation>
    </message>
    <message>
        <source>Band</source>
        <translation>Classe</translation>
    </message>
    <message>
        <source>Limit</source>
        <translation>Limite</translation>
    </message>
    <message>
        <source>Verdict</source>
        <translation>Verdict</translation>
    </message>
    <message>
        <source>exceeded</source>
        <translation>dépassé</translation>
    </message>
    <message>
        <source>Second quantity</source>
        <translation>Seconde grandeur</translation>
    </message>
    <message>
        <source>Publication</source>
        <translation>Publication</translation>
    </message>
    <message>
        <source>Clause</source>
        <translation>Article</translation>
    </message>
    <message>
        <source>Its numbers</source>
        <translation>Ses nombres</translation>
    </message>
    <message>
        <source>Compared with the publication</source>
        <translation>Comparés à la publication</translation>
    </message>
    <message>
        <source>Quantity</source>
        <translation>Grandeur</translation>
    </message>
    <message>
        <source>Axis</source>
        <translation>Axe</translation>
    </message>
    <message>
        <source>Weighting</source>
        <translation>Pondération</translation>
    </message>
    <message>
        <source>Use</source>
        <translation>Usage</translation>
    </message>
    <message>
        <source>Assumptions</source>
        <translation>Hypothèses</translation>
    </message>
    <message>
        <source>Recordings</source>
        <translation>Enregistrements</translation>
    </message>
    <message>
        <source>To be sure</source>
        <translation>Pour trancher</translation>
    </message>
</context>
<context>
    <name>becalm::desktop::VerdictFacts</name>
    <message>
        <source>exceeds the limit by %1</source>
        <translation>dépasse la limite de %1</translation>
    </message>
    <message>
        <source>%1 above the last limit</source>
        <translation>%1 au-dessus de la dernière limite</translation>
    </message>
    <message>
        <source>%1 below the next limit</source>
        <translation>%1 sous la limite suivante</translation>
    </message>
    <message>
        <source> (%1 % of it)</source>
        <translation> (%1 % de celle-ci)</translation>
    </message>
    <message>
        <source>, within the uncertainty</source>
        <translation>, dans l’incertitude</translation>
    </message>
</context>
<context>
    <name>becalm::desktop::WhatIfPanel</name>
    <message>
        <source>by, dB</source>
        <translation>de, dB</translation>
    </message>
    <message>
        <source>by, Hz (+ up, − down)</source>
        <translation>de, Hz (+ vers le haut, − vers le bas)</translation>
    </message>
    <message>
        <source>natural frequency of the mount, Hz</source>
        <translation>fréquence propre du support, Hz</translation>
    </message>
    <message>
        <source>damping ratio of the mount</source>
        <translation>taux d’amortissement du support</translation>
    </message>
    <message>
        <source>frequency of the resonance, Hz</source>
        <translation>fréquence de la résonance, Hz</translation>
    </message>
    <message>
        <source>mass of the damper over that of the mode</source>
        <translation>masse de l’amortisseur sur celle du mode</translation>
    </message>
    <message>
        <source>damping ratio of the resonance</source>
        <translation>taux d’amortissement de la résonance</translation>
    </message>
    <message>
        <source>times as stiff</source>
        <translation>fois plus raide</translation>
    </message>
    <message>
        <source>needs %1 dB less from %2 to reach “%3”</source>
        <translation>demande %1 dB de moins de %2 pour atteindre « %3 »</translation>
    </message>
    <message>
        <source>“%1” is not reachable by %2 alone: without it the value is %3</source>
        <translation>« %1 » ne peut être atteint par %2 seule : sans elle la valeur est %3</translation>
    </message>
    <message>
        <source>without %1 the value is %2</source>
        <translation>sans %1 la valeur est %2</translation>
    </message>
    <message>
        <source>Kind of change</source>
        <translation>Genre de modification</translation>
    </message>
    <message>
        <source>a source is brought down</source>
        <translation>une source est réduite</translation>
    </message>
    <message>
        <source>a source moves in frequency</source>
        <translation>une source change de fréquence</translation>
    </message>
    <message>
        <source>a source stands on a mount</source>
        <translation>une source est sur un support élastique</translation>
    </message>
    <message>
        <source>a tuned damper on a resonance</source>
        <translation>un amortisseur accordé sur une résonance</translation>
    </message>
    <message>
        <source>a resonance is made stiffer</source>
        <translation>une résonance est raidie</translation>
    </message>
    <message>
        <source>What &amp;if</source>
        <translation>Et &amp;si</translation>
    </message>
    <message>
        <source>Source that is changed</source>
        <translation>Source modifiée</translation>
    </message>
    <message>
        <source>source</source>
        <translation>source</translation>
    </message>
    <message>
        <source>&amp;Try it</source>
        <translation>&amp;Essayer</translation>
    </message>
    <message>
        <source>&amp;Forget the chosen</source>
        <translation>&amp;Oublier la choisie</translation>
    </message>
    <message>
        <source>Take the change of the chosen row away</source>
        <translation>Retirer la modification de la ligne choisie</translation>
    </message>
    <message>
        <source>Now, and what each change is predicted to do</source>
        <translation>Maintenant, et ce que ferait chaque modification</translation>
    </message>
    <message>
        <source>Change</source>
        <translation>Modification</translation>
    </message>
    <message>
        <source>Value</source>
        <translation>Valeur</translation>
    </message>
    <message>
        <source>Band</source>
        <translation>Classe</translation>
    </message>
    <message>
        <source>Notes</source>
        <translation>À noter</translation>
    </message>
    <message>
        <source>What would cure it</source>
        <translation>Ce qui y remédierait</translation>
    </message>
    <message>
        <source>%1: %2</source>
        <translation>%1 : %2</translation>
    </message>
    <message>
        <source>%1: give a number, such as 6,5</source>
        <translation>%1 : donnez un nombre, par exemple 6,5</translation>
    </message>
    <message>
        <source>%1: %2 is not above 0</source>
        <translation>%1 : %2 n’est pas supérieur à 0</translation>
    </message>
    <message>
        <source>%1: “%2” is no number; write it like 6,5 or 6.5</source>
        <translation>%1 : « %2 » n’est pas un nombre ; écrivez-le comme 6,5 ou 6.5</translation>
    </message>
    <message>
        <source>as it is now</source>
        <translation>tel quel</translation>
    </message>
    <message>
        <source>, exceeded</source>
        <translation>, dépassé</translation>
    </message>
    <message>
        <source>The next band, “%1”, begins %2 % lower.</source>
        <translation>La classe suivante, « %1 », commence %2 % plus bas.</translation>
    </message>
</context>
<context>
    <name>becalm::desktop::WhenPage</name>
    <message>
        <source>not weighted</source>
        <translation>non pondéré</translation>
    </message>
    <message>
        <source>Recording</source>
        <translation>Enregistrement</translation>
    </message>
    <message>
        <source>Channel</source>
        <translation>Voie</translation>
    </message>
    <message>
        <source>Weighting</source>
        <translation>Pondération</translation>
    </message>
    <message>
        <source>Condition of the recording</source>
        <translation>Condition de l’enregistrement</translation>
    </message>
    <message>
        <source>Stop playing</source>
        <translation>Arrêter l’écoute</translation>
    </message>
    <message>
        <source>Play</source>
        <translation>Écouter</translation>
    </message>
    <message>
        <source>There is nothing but a constant in this span: silence.</source>
        <translation>Il n’y a qu’une constante dans cet intervalle : silence.</translation>
    </message>
    <message>
        <source>Playing %1 s, %2; full scale of the sound is %3 %4, the offset is taken away.</source>
        <translation>Écoute de %1 s, %2 ; la pleine échelle du son est %3 %4, la composante continue est retirée.</translation>
    </message>
    <message>
        <source>Closer</source>
        <translation>Plus près</translation>
    </message>
    <message>
        <source>Look at half as long (+)</source>
        <translation>Voir la moitié de la durée (+)</translation>
    </message>
    <message>
        <source>Wider</source>
        <translation>Plus large</translation>
    </message>
    <message>
        <source>Look at twice as long (−)</source>
        <translation>Voir le double de la durée (−)</translation>
    </message>
    <message>
        <source>Whole</source>
        <translation>Tout</translation>
    </message>
    <message>
        <source>The whole recording</source>
        <translation>Tout l’enregistrement</translation>
    </message>
    <message>
        <source>Leave out…</source>
        <translation>Écarter…</translation>
    </message>
    <message>
        <source>Leave a span out</source>
        <translation>Écarter un intervalle</translation>
    </message>
    <message>
        <source>Leave out the span that is selected, or type one (X)</source>
        <translation>Écarter l’intervalle choisi, ou en taper un (X)</translation>
    </message>
    <message>
        <source>Playback speed</source>
        <translation>Vitesse d’écoute</translation>
    </message>
    <message>
        <source>Faster playback raises every frequency: 10 Hz, ten times as fast, is heard as 100 Hz</source>
        <translation>Une écoute plus rapide élève chaque fréquence : 10 Hz, dix fois plus vite, s’entendent comme 100 Hz</translation>
    </message>
    <message>
        <source>as fast as it was</source>
        <translation>à la vitesse réelle</translation>
    </message>
    <message>
        <source>4 times as fast</source>
        <translation>4 fois plus vite</translation>
    </message>
    <message>
        <source>10 times as fast</source>
        <translation>10 fois plus vite</translation>
    </message>
    <message>
        <source>20 times as fast</source>
        <translation>20 fois plus vite</translation>
    </message>
    <message>
        <source>Play as sound</source>
        <translation>Écouter comme son</translation>
    </message>
    <message>
        <source>Play the span that is selected, else what is seen (Space)</source>
        <translation>Écouter l’intervalle choisi, sinon ce que l’on voit (Espace)</translation>
    </message>
    <message>
        <source>What the change did</source>
        <translation>Ce qu’a fait la modification</translation>
    </message>
    <message>
        <source>Trouble with the recording</source>
        <translation>Difficulté avec l’enregistrement</translation>
    </message>
    <message>
        <source>What is heard</source>
        <translation>Ce que l’on entend</translation>
    </message>
    <message>
        <source>Left out, and events</source>
        <translation>Écartés, et événements</translation>
    </message>
    <message>
        <source>&quot;%1&quot; is no number of seconds; write 12.5 or 12,5</source>
        <translation>« %1 » n’est pas un nombre de secondes ; écrivez 12.5 ou 12,5</translation>
    </message>
    <message>
        <source>Take back</source>
        <translation>Reprendre</translation>
    </message>
    <message>
        <source>Removes the row that is chosen: the span counts again, or is no event any more</source>
        <translation>Retire la ligne choisie : l’intervalle compte à nouveau, ou n’est plus un événement</translation>
    </message>
    <message>
        <source>Findings</source>
        <translation>Constats</translation>
    </message>
    <message>
        <source>What was noticed</source>
        <translation>Ce qui a été remarqué</translation>
    </message>
    <message>
        <source>stands for the %1</source>
        <translation>représente : %1</translation>
    </message>
    <message>
        <source>%1 h a day</source>
        <translation>%1 h par jour</translation>
    </message>
    <message>
        <source>%1 events</source>
        <translation>%1 événements</translation>
    </message>
    <message>
        <source>channel %1, %2</source>
        <translation>voie %1, %2</translation>
    </message>
    <message>
        <source>, at %1 s</source>
        <translation>, à %1 s</translation>
    </message>
    <message>
        <source>, channel %1</source>
        <translation>, voie %1</translation>
    </message>
    <message>
        <source>nothing about this recording</source>
        <translation>rien sur cet enregistrement</translation>
    </message>
    <message>
        <source>strip</source>
        <translation>bande</translation>
    </message>
    <message>
        <source>samples</source>
        <translation>échantillons</translation>
    </message>
    <message>
        <source>Reading the samples: %1 %. Until then the range of each second is shown.</source>
        <translation>Lecture des échantillons : %1 %. D’ici là, l’étendue de chaque seconde est montrée.</translation>
    </message>
    <message>
        <source>%1 stays as it was: %2.</source>
        <translation>%1 reste comme avant : %2.</translation>
    </message>
    <message>
        <source>%1: %2 before, now %3.</source>
        <translation>%1 : %2 avant, maintenant %3.</translation>
    </message>
    <message>
        <source>A span needs two numbers of seconds; write 12.5 or 12,5</source>
        <translation>Un intervalle demande deux nombres de secondes ; écrivez 12.5 ou 12,5</translation>
    </message>
    <message>
        <source>leave out %1 s to %2 s</source>
        <translation>écarter de %1 s à %2 s</translation>
    </message>
    <message>
        <source>event at %1 s</source>
        <translation>événement à %1 s</translation>
    </message>
    <message>
        <source>change the span at %1 s</source>
        <translation>modifier l’intervalle à %1 s</translation>
    </message>
    <message>
        <source>take back the span at %1 s</source>
        <translation>reprendre l’intervalle à %1 s</translation>
    </message>
    <message>
        <source>note</source>
        <translation>remarque</translation>
    </message>
    <message>
        <source>caution</source>
        <translation>prudence</translation>
    </message>
    <message>
        <source>cannot be judged</source>
        <translation>ne peut être jugé</translation>
    </message>
</context>
<context>
    <name>becalm::desktop::WhyPage</name>
    <message>
        <source>State of the explanation</source>
        <translation>État de l’explication</translation>
    </message>
    <message>
        <source>E&amp;xplain</source>
        <translation>E&amp;xpliquer</translation>
    </message>
    <message>
        <source>Draw a source&apos;s line to where it belongs; its harmonics follow</source>
        <translation>Tirez la raie d’une source à sa place ; ses harmoniques suivent</translation>
    </message>
    <message>
        <source>Second figure</source>
        <translation>Deuxième figure</translation>
    </message>
    <message>
        <source>Ba&amp;nds</source>
        <translation>&amp;Tiers d’octave</translation>
    </message>
    <message>
        <source>Over ti&amp;me</source>
        <translation>Dans le te&amp;mps</translation>
    </message>
    <message>
        <source>&amp;Ladder</source>
        <translation>Ce qui le po&amp;rte</translation>
    </message>
    <message>
        <source>Frequencies that dominate</source>
        <translation>Fréquences dominantes</translation>
    </message>
    <message>
        <source>Shares of the energy, and notes</source>
        <translation>Parts de l’énergie, et notes</translation>
    </message>
    <message>
        <source>Tables of the causes</source>
        <translation>Tableaux des causes</translation>
    </message>
    <message>
        <source>What &amp;dominates</source>
        <translation>Ce qui &amp;domine</translation>
    </message>
    <message>
        <source>S&amp;ources</source>
        <translation>S&amp;ources</translation>
    </message>
    <message>
        <source>What if, and cu&amp;res</source>
        <translation>Et si, et remède&amp;s</translation>
    </message>
    <message>
        <source>Open a survey first.</source>
        <translation>Ouvrez d’abord une campagne.</translation>
    </message>
    <message>
        <source>The survey file has faults; mend them, then its causes can be looked for.</source>
        <translation>Le fichier de campagne a des fautes ; corrigez-les, puis on pourra chercher les causes.</translation>
    </message>
    <message>
        <source>The survey is being judged; its causes come after.</source>
        <translation>La campagne est en cours de jugement ; les causes viennent après.</translation>
    </message>
    <message>
        <source>The survey has not been judged yet: judge it first (F5).</source>
        <translation>La campagne n’a pas encore été jugée : jugez-la d’abord (F5).</translation>
    </message>
    <message>
        <source>Stopped before the causes were known.</source>
        <translation>Arrêté avant que les causes soient connues.</translation>
    </message>
    <message>
        <source>The day of %1 is made of tasks in several spaces; choose one of the spaces to see why it shakes.</source>
        <translation>Le jour de %1 est fait de tâches dans plusieurs locaux ; choisissez l’un d’eux pour voir pourquoi il vibre.</translation>
    </message>
    <message>
        <source>Nothing could be judged, so there is nothing to explain; the page How much says why.</source>
        <translation>Rien n’a pu être jugé, il n’y a donc rien à expliquer ; la page Combien dit pourquoi.</translation>
    </message>
    <message>
        <source>Nothing is judged under this choice; choose another criterion, condition or position above.</source>
        <translation>Rien n’est jugé sous ce choix ; choisissez ci-dessus un autre critère, une autre condition ou une autre position.</translation>
    </message>
    <message>
        <source>This cannot be explained, because it could not be judged: %1</source>
        <translation>Cela ne peut être expliqué, faute d’avoir pu être jugé : %1</translation>
    </message>
    <message>
        <source>Being worked out anew; what is seen is of before.</source>
        <translation>Nouveau calcul en cours ; ce que l’on voit date d’avant.</translation>
    </message>
    <message>
        <source>The causes are being worked out.</source>
        <translation>Les causes sont en cours de calcul.</translation>
    </message>
    <message>
        <source>No explanation was made of this verdict; judge again (F5).</source>
        <translation>Aucune explication n’a été faite de ce verdict ; jugez à nouveau (F5).</translation>
    </message>
    <message>
        <source>This cannot be explained, because %1.</source>
        <translation>Cela ne peut être expliqué : %1.</translation>
    </message>
    <message>
        <source>Rows of time are kept of one recording of 2 rows at least; several do not join</source>
        <translation>Les lignes de temps sont gardées d’un seul enregistrement d’au moins 2 lignes ; plusieurs ne se raccordent pas</translation>
    </message>
    <message>
        <source>The survey has changed since these speeds were tried; look at them again, then write them.</source>
        <translation>La campagne a changé depuis l’essai de ces vitesses ; regardez-les à nouveau, puis écrivez-les.</translation>
    </message>
    <message>
        <source>write the sources&apos; speeds</source>
        <translation>écriture des vitesses des sources</translation>
    </message>
</context>
<context>
    <name>becalm::desktop::Words</name>
    <message>
        <source>cannot be judged</source>
        <translation>ne peut être jugé</translation>
    </message>
    <message>
        <source>no limits set</source>
        <translation>aucune limite fixée</translation>
    </message>
    <message>
        <source> (or %1)</source>
        <translation> (ou %1)</translation>
    </message>
</context>
<context>
    <name>main</name>
    <message>
        <source>Judges vibration comfort from recordings</source>
        <translation>Juge le confort vibratoire à partir d’enregistrements</translation>
    </message>
    <message>
        <source>a survey, a folder of recordings, or recordings</source>
        <translation>une campagne, un dossier d’enregistrements, ou des enregistrements</translation>
    </message>
</context>
</TS>
