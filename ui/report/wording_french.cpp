#include "ui/report/wording.h"

namespace becalm::report {
namespace {

constexpr Wording words{
    .contents = "Sommaire",
    .date = "Date\u00a0: {}",
    .client = "Client\u00a0: {}",
    .by_program = "Établi avec becalm {}",
    .yes = "oui",
    .no = "non",
    .not_stated = "non indiqué",
    .logo = "logo",
    .picture_not_drawn = "{}\u00a0: l’image ne peut pas être représentée ici.",

    .verdicts = "Résultats de l’évaluation",
    .counts = "{} évalués, dont {} en dépassement\u00a0; {} impossibles à évaluer.",
    .nothing_judged = "Rien n’a pu être évalué\u00a0: les raisons figurent à côté de chaque emplacement.",
    .how_read = "Pour chaque critère, la valeur la plus défavorable d’abord. Le repère indique le rang de la valeur "
                "parmi les niveaux, le plus clément à gauche\u00a0; les termes sont ceux de la publication.",
    .criterion = "critère",
    .space = "local",
    .position = "position",
    .condition = "condition",
    .use = "usage",
    .axis = "axe",
    .weighting = "pondé\u00adration",
    .value = "valeur",
    .uncertainty = "± (k\u00a0=\u00a02)",
    .unit = "unité",
    .place = "rang",
    .band = "niveau",
    .exceeded = "dépassé",
    .not_judged = "évaluation impossible\u00a0; voir «\u00a0Exclusions et motifs\u00a0»",
    .no_limits = "aucune exigence fixée",
    .also = "{} (ou {})",
    .total_axis = "total",

    .purpose = "Client et objet de la mission",
    .purpose_words =
        "On évalue la manière dont les vibrations sont ressenties par les personnes, selon les critères ci-dessous.",
    .uses = "usages",
    .all_uses = "tous les usages",
    .confirmed_by = "valeurs comparées à la publication par",
    .judged_by = "Critères demandés",
    .statement_table = "Indications de la campagne",
    .item = "rubrique",
    .statement = "indication",
    .purpose_stated = "objet de la mesure",
    .object_stated = "objet mesuré",
    .author = "auteur",
    .instruments_stated = "chaîne de mesure",
    .mounting = "fixation des capteurs",
    .background = "vibration résiduelle",
    .complaints = "plaintes, bruits de vibration, sons audibles",
    .deviations = "écarts par rapport aux publications",
    .client_stated = "client",

    .object = "Objet et emplacements",
    .setting = "Nature de l’objet\u00a0: {}.",
    .spaces = "Locaux",
    .label = "désignation",
    .group = "groupe",
    .plan = "plan",
    .mark = "n°",
    .plan_alternative = "Plan {} avec les numéros de ses locaux",
    .plan_not_shown = "Le plan {} ({}) n’est pas représenté\u00a0: {}.",
    .plan_damaged = "son fichier PDF est endommagé",
    .plan_locked = "son fichier PDF est protégé par un mot de passe",
    .plan_no_page = "son fichier PDF n’a pas de page {}",
    .plan_failed = "sa page ne peut pas être dessinée",
    .plan_marks = "Repères\u00a0: le numéro du local et le rang de sa valeur la plus défavorable parmi les "
                  "niveaux\u00a0; foncé en cas de dépassement.",
    .plan_unknown = "ce n’est pas une image PNG, JPEG ou SVG",
    .axes_words = "Axes\u00a0: x, y et z sont des translations, rx, ry et rz les rotations autour de ceux-ci. Pour une "
                  "personne, x est l’axe dos-poitrine, y l’axe latéral et z l’axe de la colonne vertébrale\u00a0; dans "
                  "les bâtiments et à bord des navires, z est vertical.",

    .conditions = "Conditions, durées et sources",
    .condition_table = "Conditions",
    .title = "titre",
    .noted = "indications",
    .period = "période",
    .hours = "heures",
    .events = "événements",
    .source_table = "Sources de vibration",
    .source = "source",
    .kind = "type",
    .exposure_table = "Personnes et leurs tâches",
    .person = "personne",
    .day = "jour",
    .no_conditions = "La campagne de mesure n’indique aucune condition.",

    .instruments = "Instruments et enregistrements",
    .sensor_table = "Capteurs",
    .sensor = "capteur",
    .serial = "n° de série",
    .calibrated = "étalonné",
    .certificate = "certificat",
    .sensor_uncertainty = "incertitude de la sensibilité (k = 2), %",
    .no_sensors =
        "La campagne n’indique aucun capteur\u00a0: l’étalonnage ne peut être démontré ni aucune incertitude indiquée.",
    .recording_table = "Enregistrements",
    .recording = "fichier",
    .channels = "voies",
    .read_as = "lu comme",
    .scale = "la valeur 1 vaut",
    .start = "début",
    .comment = "remarque",
    .not_read = "non lu",
    .filter_words = "Les pondérations fréquentielles sont calculées pour la fréquence d’échantillonnage de chaque "
                    "enregistrement à partir de leurs paramètres publiés, à 0,01 % et 0,01° près de la définition "
                    "jusqu’à 112 Hz (pondération main-bras\u00a0: 1400 Hz). Les premières secondes, pendant la mise en "
                    "régime d’un filtre, sont exclues\u00a0; les notes l’indiquent.",

    .left_out = "Exclusions et motifs",
    .excluded_table = "Intervalles exclus",
    .from_to = "de–à, s",
    .reason = "motif",
    .event_table = "Événements\u00a0: si un enregistrement en liste, eux seuls sont évalués",
    .event = "événement",
    .refused_table = "Emplacements sans évaluation",
    .nothing_left_out = "Aucun intervalle n’a été exclu et chaque emplacement est évalué.",

    .fitness = "Aptitude des enregistrements",
    .finding_table = "Constats",
    .severity = "gravité",
    .channel = "voie",
    .finding = "constat",
    .finding_quoted = "texte du programme (en anglais)",
    .nothing_found = "Rien n’a été relevé qui appelle une question d’un lecteur attentif.",
    .severity_words = "Une exclusion écarte l’enregistrement ou la voie de toute évaluation\u00a0; un avertissement "
                      "laisse subsister la valeur\u00a0; une remarque ne change rien.",

    .results = "Résultats par critère",
    .compared = "Grandeur comparée",
    .confirmed = "Comment les valeurs ont été confirmées\u00a0: {}.",
    .from_memory = "de mémoire",
    .bands_table = "Niveaux",
    .range = "plage",
    .below = "moins de {}",
    .up_to = "jusqu’à {}",
    .above = "au-delà",
    .from_on = "à partir de {} ",
    .exceeds = "dépasse",
    .rulers = "Valeurs avec leur incertitude parmi les niveaux",
    .notes = "Notes",
    .combined = "combinaison",
    .limits_missing = "La publication fixe des limites qui ne figurent pas dans le programme.",

    .causes = "Causes et remèdes",
    .causes_words = "Pour l’emplacement le plus défavorable de chaque critère\u00a0: ce qui porte l’énergie pondérée, "
                    "ce qui la produit et ce qui ramènerait la valeur au niveau plus clément suivant. Les sources sont "
                    "celles que la campagne indique.",
    .cannot_explain = "Explication impossible, car (texte anglais)\u00a0: {}.",
    .component_table = "Composantes, la plus forte d’abord",
    .frequency = "Hz",
    .weighted = "valeur efficace pondérée, {}",
    .share = "part, %",
    .made_by = "produite par",
    .because = "motif (en anglais)",
    .unexplained = "non attribuée",
    .energy =
        "De l’énergie, {} % provient de sources indiquées, {} % de composantes non attribuées, {} % est à large bande.",
    .next_band = "Le niveau plus clément suivant, «\u00a0{}\u00a0», commence {} % plus bas, à {}.",
    .cure_reaches = "{} dB de moins de {} atteignent «\u00a0{}\u00a0»",
    .cure_alone = "impossible par {} seul\u00a0: sans cette source, la valeur est de {}",
    .cure_without = "sans {}, la valeur est de {}",
    .nothing_to_explain = "Il n’y a aucune valeur évaluée à expliquer.",

    .uncertainty_chapter = "Incertitude de mesure",
    .uncertainty_words =
        "L’incertitude indiquée est élargie (k = 2). Elle réunit l’étalonnage des capteurs (commun aux axes d’un "
        "capteur), les filtres (0,01 %), ce que la campagne indique de la fixation et du choix du point, et la "
        "dispersion propre de l’enregistrement\u00a0: au premier ordre, ou par simulation là où des axes, des "
        "positions ou des maxima sont en concurrence. Le tableau donne chaque contribution comme incertitude-type de "
        "la valeur. Une valeur sans incertitude provient de capteurs pour lesquels la campagne n’en indique pas, ou "
        "d’une grandeur qui n’est pas une puissance du mouvement.",
    .rule_simple = "L’évaluation compare la valeur elle-même à la limite, sans l’incertitude.",
    .rule_guarded = "L’évaluation compare à la limite la valeur augmentée de son incertitude élargie.",
    .budget = "Incertitude-type de chaque valeur et ses contributions",
    .unstated = "Non compris dans l’incertitude",
    .unstated_quoted = "non compris (texte anglais)",
    .count_of_values = "valeurs",
    .probability = "dépasse avec, %",
    .near_table = "Valeurs plus proches d’une limite que leur incertitude",
    .limit = "limite",
    .none_near = "Aucune valeur n’est plus proche d’une limite que son incertitude indiquée.",
    .settled_by = "nécessaire pour trancher, multiple de l’enregistrement",
    .settled_by_none = "impossible ainsi\u00a0: {}",

    .exposure = "Exposition journalière",
    .exposure_words =
        "Les journées des personnes, selon leurs tâches. Sur chaque axe, une tâche apporte A(8) = k a_w √(T / 8 h), "
        "avec k = 1,4 pour x et y et 1 pour z pour l’ensemble du corps\u00a0; k VDV (T / durée évaluée)^¼\u00a0; et "
        "des points, 100 à la valeur déclenchant l’action. Les carrés de A(8), les puissances quatrièmes des doses et "
        "les points des tâches s’additionnent, axe par axe. Pour l’ensemble du corps, on compare l’axe de plus grande "
        "valeur\u00a0; pour une main, la valeur totale des axes. Les heures sont celles que la campagne indique.",
    .whole_body = "Ensemble du corps",
    .hand_arm = "Système main-bras, {}",
    .hand_arm_governs = "Système main-bras, {} (la main déterminante)",
    .task = "tâche",
    .whole_day = "journée entière",
    .points_an_hour = "points/h",
    .points = "points",
    .highest = "plus grande valeur\u00a0: {}",
    .vector_sum = "valeur totale des axes",
    .not_within_a_day = "pas en une journée",
    .others_exceed = "déjà dépassé par les autres",
    .task_times = "Durée admissible de chaque tâche",
    .no_bound_in_a_day = "{}\u00a0: aucune tâche n’atteint un seuil en une journée, ni seule ni avec les autres.",
    .bound = "seuil",
    .alone = "seule, après",
    .beside = "avec les autres tâches, après",
    .left = "reste",
    .same_work = "le même travail, dans ces proportions, l’atteint après",
    .seat_value = "valeur SEAT, %",
    .duty = "Obligation d’agir\u00a0: {}.",
    .taken = "{} (retenu\u00a0: la campagne n’en demande aucun)",
    .exposure_caution =
        "Une évaluation du confort n’est pas une évaluation de la santé. Ce sont des expositions telles que mesurées, "
        "selon les éditions citées, pour les heures indiquées\u00a0; la variation du travail et des machines d’un "
        "jour à l’autre n’est pas comprise dans l’incertitude (pour A(8) et VDV, 20 % à 40 % au total sont courants). "
        "Le droit national prévaut sur la directive\u00a0; il appartient à un professionnel habilité de la santé au "
        "travail de décider pour les personnes.",

    .cautions = "Réserves et avertissements",
    .caution_comfort =
        "Une évaluation du confort vibratoire n’est pas une évaluation de la structure, des machines ni de la santé.",
    .caution_limits = "Les limites proviennent des éditions citées. Les règlements locaux, les contrats et la pratique "
                      "des professionnels habilités prévalent.",
    .caution_memory = "Les valeurs dites «\u00a0de mémoire\u00a0» n’ont pas été comparées à la publication\u00a0: "
                      "comparez-les à votre exemplaire avant de signer. Ce sont celles de {}.",
    .caution_health = "Une valeur d’exposition déclenchant l’action est dépassée pour {}. L’employeur a l’obligation "
                      "d’agir\u00a0: réduire l’exposition et respecter le droit applicable. Il appartient à un médecin "
                      "ou à un hygiéniste du travail habilité de décider pour les personnes.",
    .quotes = "Les constats, motifs, notes, justifications et étapes de calcul du programme sont cités dans son texte "
              "anglais\u00a0; les niveaux et les titres sont ceux des publications ou des critères.",

    .appendix_values = "Annexe A\u00a0: toutes les valeurs avec tous leurs chiffres",
    .values_words = "Non arrondies, en unités SI. Avec les enregistrements de l’annexe D, la pondération et la formule "
                    "du critère, chacune peut être recalculée.",
    .values_table = "Valeurs comparées",
    .verdict = "évaluation",
    .terms_table = "Valeurs des axes",
    .factor = "facteur",
    .duration = "durée, s",
    .recordings = "enregistrements",
    .appendix_steps = "Annexe B\u00a0: étapes du calcul",
    .steps_table = "Étapes, dans leur ordre",
    .step = "étape (texte anglais)",
    .of = "de",
    .appendix_sources = "Annexe C\u00a0: publications",
    .sources_table = "Publications utilisées",
    .edition = "édition",
    .status = "statut (en anglais)",
    .seen = "consultation du contenu (en anglais)",
    .appendix_inputs = "Annexe D\u00a0: ce sur quoi repose le rapport",
    .inputs_words = "Le sceau de la dernière ligne est le SHA-256 de ces données, des valeurs de l’annexe A et du "
                    "texte de ce rapport. Ce n’est pas une signature\u00a0: il montre ce qui a changé depuis, non qui "
                    "l’a changé. `becalm verify` évalue à nouveau la campagne et nomme ce qui diffère.",
    .seal_of_html = "Sceau (SHA-256) du même rapport en HTML\u00a0: {}",
    .inputs_table = "Données",
    .input = "donnée",
    .name = "nom",
    .sha256 = "SHA-256 ou valeur",
    .in_place_of_own = "à la place des critères de la campagne",

    .settings = {"navire", "véhicule ferroviaire", "véhicule routier", "bâtiment", "ascenseur"},
    .severities = {"remarque", "avertissement", "exclusion"},
    .axis_rules = {"chaque axe est évalué séparément", "l’axe de plus grande valeur est déterminant",
                   "seul l’axe vertical est évalué",
                   "racine de la somme des carrés des axes, chacun multiplié par son facteur",
                   "somme des racines des sommes de carrés de groupes d’axes",
                   "racine de la somme des carrés du premier groupe rapportée à celle du second, en pour cent"},
    .parts_rules = {"les conditions sont évaluées séparément",
                    "les valeurs des conditions ou des tâches s’additionnent",
                    "les carrés des valeurs des conditions ou des tâches s’additionnent",
                    "les puissances quatrièmes des valeurs des conditions ou des tâches s’additionnent",
                    "la condition de plus grande valeur est déterminante"},
    .repeats_rules = {"des enregistrements répétés comptent comme un seul plus long",
                      "d’enregistrements répétés compte la moyenne des valeurs",
                      "d’enregistrements répétés compte la plus grande valeur"},
};

} // namespace

const Wording& french() { return words; }

} // namespace becalm::report
