<?xml version="1.0" encoding="utf-8"?>
<!DOCTYPE TS>
<TS version="2.1" language="en" sourcelanguage="en">
<context>
    <name>becalm::desktop::ChannelModel</name>
    <message numerus="yes">
        <source>has only %n channel(s)</source>
        <translation>
            <numerusform>has only %n channel</numerusform>
            <numerusform>has only %n channels</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%1: %2, %3 Hz, %n channel(s), %4</source>
        <translation>
            <numerusform>%1: %2, %3 Hz, %n channel, %4</numerusform>
            <numerusform>%1: %2, %3 Hz, %n channels, %4</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>removal of %n recording(s)</source>
        <translation>
            <numerusform>removal of %n recording</numerusform>
            <numerusform>removal of %n recordings</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>becalm::desktop::GatherPage</name>
    <message numerus="yes">
        <source>addition of %n recording(s)</source>
        <translation>
            <numerusform>addition of %n recording</numerusform>
            <numerusform>addition of %n recordings</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>becalm::desktop::MainWindow</name>
    <message numerus="yes">
        <source>%n s left</source>
        <translation>
            <numerusform>%n s left</numerusform>
            <numerusform>%n s left</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n min left</source>
        <translation>
            <numerusform>%n min left</numerusform>
            <numerusform>%n min left</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>and %n more</source>
        <translation>
            <numerusform>and %n more</numerusform>
            <numerusform>and %n more</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>becalm::desktop::PlanPanel</name>
    <message numerus="yes">
        <source>%n space(s) not on a plan yet: drag them here from the list.</source>
        <translation>
            <numerusform>%n space is not on a plan yet: drag it here from the list.</numerusform>
            <numerusform>%n spaces are not on a plan yet: drag them here from the list.</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>becalm::desktop::SpaceTreeModel</name>
    <message numerus="yes">
        <source>; %n more cannot be judged</source>
        <translation>
            <numerusform>; %n more cannot be judged</numerusform>
            <numerusform>; %n more cannot be judged</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>becalm::desktop::SurveyGrid</name>
    <message numerus="yes">
        <source>paste of %n row(s)</source>
        <translation>
            <numerusform>paste of %n row</numerusform>
            <numerusform>paste of %n rows</numerusform>
        </translation>
    </message>
</context>
</TS>
