<?xml version="1.0" encoding="utf-8"?>
<!DOCTYPE TS>
<TS version="2.1" language="de" sourcelanguage="en">
<context>
    <name>becalm::desktop::FigureView</name>
    <message>
        <source>no figure</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>Write the figure to</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>Write as SVG…</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>Drawing (*.svg)</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>Write as PNG…</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>Picture (*.png)</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>Write as PDF…</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>Page (*.pdf)</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>Write its numbers as CSV…</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>Table (*.csv)</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>%1: a figure is written as .svg, .png, .pdf or .csv; end the name with one of them</source>
        <translation type="unfinished"></translation>
    </message>
</context>
<context>
    <name>becalm::desktop::HelpSheet</name>
    <message>
        <source>Comfort evaluation is not a structural, machinery or health assessment. Limits come from the editions cited; local codes, contracts and licensed practice prevail.</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>&amp;Back to the survey</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>In a figure</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>move the cursor and read the values under it; with Ctrl in large steps</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>write the figure to a file</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>Everywhere</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>go to the next field; with Shift to the one before</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>press what has the focus</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>open what is chosen in a list</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>go to the menus; Alt with an underlined letter opens one</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>Keys</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>From vibration recordings to a judgement of human comfort that another engineer can check to the last digit.</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>Version %1</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>Cautions</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>Numbers marked &quot;from memory&quot; were not compared with the publication: compare them with your copy before you sign.</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>Where a health action value is exceeded, the employer has duties. A physician or a licensed hygienist decides about people.</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>An uncertainty is stated where the survey states that of the sensor; so far it covers calibration only.</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>Licence</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>Becalm is free software under the GNU General Public License, version 3 or later. It comes without any warranty. You may use it, study it, change it and pass it on under the same terms; the licence lies beside the program&apos;s documents.</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>Libraries</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>Qt %1 (LGPL 3), FFTW, Eigen, libsndfile, toml++, nlohmann/json, {fmt}, tl::expected, OpenSSL&apos;s libcrypto, xxHash.</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>About Becalm</source>
        <translation type="unfinished"></translation>
    </message>
</context>
<context>
    <name>becalm::desktop::LookMenu</name>
    <message>
        <source>&amp;View</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>&amp;Colours</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>As the &amp;system</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>&amp;Light</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>&amp;Dark</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>&amp;High contrast</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>&amp;Text size</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>%1 %</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>&amp;Larger</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>&amp;Smaller</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>&amp;As the system</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>&amp;Language</source>
        <translation type="unfinished"></translation>
    </message>
</context>
<context>
    <name>becalm::desktop::MainWindow</name>
    <message>
        <source>Folder of recordings</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>Survey</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>Surveys (*.toml)</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>Folder in which to put the demo</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>Values under the cursor</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>State of the survey file</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>Time left</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>Progress</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>Stop</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>Stop what is being worked out; nothing is lost</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>Stopped. What is shown is of before; Judge again goes on.</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>Judge again</source>
        <translation type="unfinished"></translation>
    </message>
    <message numerus="yes">
        <source>%n s left</source>
        <translation type="unfinished">
            <numerusform></numerusform>
            <numerusform></numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n min left</source>
        <translation type="unfinished">
            <numerusform></numerusform>
            <numerusform></numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>and %n more</source>
        <translation type="unfinished">
            <numerusform></numerusform>
            <numerusform></numerusform>
        </translation>
    </message>
    <message>
        <source>The survey file has faults; what is shown is of before. Mend them in an editor, or undo:
%1</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>The survey could not be saved: %1. Your changes are kept and will be offered again.</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>Try again</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>The survey file was changed elsewhere; the new text is shown. Undo brings yours back.</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>The survey file was changed elsewhere while you had unsaved changes. Nothing is lost: choose which to keep.</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>Take the file&apos;s</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>Keep mine</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>What</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>was measured?</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>Recordings, channels, sensors, spaces, conditions</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>Where</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>is it worst?</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>Spaces by deck, storey or vehicle, and the plan</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>How much</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>is it?</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>Values among the bands of each criterion</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>When</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>does it happen?</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>Recordings over time; spans to leave out</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>Why</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>does it shake?</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>Spectra, sources, what if</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>Who</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>is exposed?</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>Daily exposures of persons</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>&amp;Survey</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>Open &amp;folder…</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>&amp;Open survey…</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>&amp;Demo…</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>&amp;Save now</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>&amp;Judge again</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>Write the judgement as &amp;JSON…</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>Write the judgement as &amp;CSV…</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>&amp;Close survey</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>&amp;Quit</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>&amp;Edit</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>Undo</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>Redo</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>&amp;Help</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>&amp;Keys</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>&amp;About Becalm</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>Questions</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>%1 is not there; name a survey, a folder or a recording</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>The last time, changes to this survey could not be saved. They were kept.</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>Take them</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>Drop them</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>This survey was begun from the recordings in the folder. Look at each guess below, then ask where it is worst.</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>Becalm</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>%1 – Becalm</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>changed elsewhere too</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>not saved yet</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>saved</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>There is no judgement yet</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>Write the judgement to</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>Written to %1</source>
        <translation type="unfinished"></translation>
    </message>
</context>
<context>
    <name>becalm::desktop::Notices</name>
    <message>
        <source>Notices</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>Put this notice away</source>
        <translation type="unfinished"></translation>
    </message>
</context>
<context>
    <name>becalm::desktop::StartPage</name>
    <message>
        <source>What did you measure?</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>Drop a folder of recordings, recordings or a survey on this window, or begin here. A folder without a survey gets one, with guesses that say they are guesses.</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>Open a &amp;folder of recordings…</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>Uses the survey in it, or begins one</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>Open a &amp;survey…</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>A survey.toml that you have</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>Look at the &amp;demo</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>Writes an invented ferry and its terminal into a folder that you choose</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>&amp;Go on with</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>Surveys that were open</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>%1 (not there now)</source>
        <translation type="unfinished"></translation>
    </message>
</context>
<context>
    <name>becalm::desktop::SubjectLine</name>
    <message>
        <source>&amp;In</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>Space or person that is looked at</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>on the</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>Position that is looked at</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>during</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>Condition that is looked at</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>judged by</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>Criterion that is looked at</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>Verdict of what is looked at</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>the worst space</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>worst position</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>the worst condition</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>every criterion</source>
        <translation type="unfinished"></translation>
    </message>
</context>
<context>
    <name>becalm::desktop::SurveyDocument</name>
    <message>
        <source>change made elsewhere</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>unsaved changes of the last time</source>
        <translation type="unfinished"></translation>
    </message>
</context>
<context>
    <name>becalm::desktop::Words</name>
    <message>
        <source>cannot be judged</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>no limits set</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source> (or %1)</source>
        <translation type="unfinished"></translation>
    </message>
</context>
<context>
    <name>main</name>
    <message>
        <source>Judges vibration comfort from recordings</source>
        <translation type="unfinished"></translation>
    </message>
    <message>
        <source>a survey, a folder of recordings, or recordings</source>
        <translation type="unfinished"></translation>
    </message>
</context>
</TS>
