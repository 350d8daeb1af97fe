<?xml version="1.0" encoding="utf-8"?>
<!DOCTYPE TS>
<TS version="2.1" language="fr" sourcelanguage="en">
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
</context>
<context>
    <name>becalm::desktop::HelpSheet</name>
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
        <source>An uncertainty is stated where the survey states that of the sensor; so far it covers calibration only.</source>
        <translation>Une incertitude est donnée quand la campagne donne celle du capteur ; jusqu’ici elle ne couvre que l’étalonnage.</translation>
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
        <source>Qt %1 (LGPL 3), FFTW, Eigen, libsndfile, toml++, nlohmann/json, {fmt}, tl::expected, OpenSSL&apos;s libcrypto, xxHash.</source>
        <translation>Qt %1 (LGPL 3), FFTW, Eigen, libsndfile, toml++, nlohmann/json, {fmt}, tl::expected, libcrypto d’OpenSSL, xxHash.</translation>
    </message>
    <message>
        <source>About Becalm</source>
        <translation>À propos de Becalm</translation>
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
