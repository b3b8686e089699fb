package io.evenwarm.monitor;

import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;
import static com.tngtech.archunit.library.dependencies.SlicesRuleDefinition.slices;
import static io.evenwarm.testing.ModuleRules.never;
import static io.evenwarm.testing.ModuleRules.only;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.tngtech.archunit.base.DescribedPredicate;
import com.tngtech.archunit.core.domain.JavaClass;
import com.tngtech.archunit.core.domain.JavaClasses;
import com.tngtech.archunit.core.importer.ImportOption.DoNotIncludeTests;
import com.tngtech.archunit.junit.AnalyzeClasses;
import com.tngtech.archunit.junit.ArchTest;
import com.tngtech.archunit.junit.ArchTests;
import com.tngtech.archunit.lang.ArchRule;
import io.evenwarm.link.Authority;
import io.evenwarm.testing.ModuleRules;
import java.time.Clock;
import java.util.List;

/** The package directions of docs/architecture.md, for the monitor. */
@AnalyzeClasses(packages = "io.evenwarm.monitor", importOptions = DoNotIncludeTests.class)
final class MonitorArchitectureTest {

    @ArchTest static final ArchTests IN_EVERY_MODULE = ArchTests.in(ModuleRules.class);

    /** An empty scan would pass every rule below. */
    @ArchTest
    static void theScanReallySawTheMonitorsClasses(JavaClasses classes) {
        assertTrue(classes.size() >= 60, "only " + classes.size() + " classes were scanned");
    }

    @ArchTest
    static final ArchRule ONLY_THE_STORE_SPEAKS_SQL =
            only(List.of("io.evenwarm.monitor.store.."), "java.sql..", "org.sqlite..");

    @ArchTest
    static final ArchRule ONLY_THE_VIEW_AND_ITS_CHARTS_KNOW_JAVAFX =
            only(List.of("io.evenwarm.monitor.view.."), "javafx..");

    @ArchTest
    static final ArchRule ONLY_CHART_KNOWS_THE_PLOT_LIBRARY =
            only(List.of("io.evenwarm.monitor.chart.."), "org.jfree..");

    @ArchTest
    static final ArchRule VIEW_AND_CHART_IMPORT_NEITHER_STORE_NOR_LINK =
            never(
                    List.of("io.evenwarm.monitor.view..", "io.evenwarm.monitor.chart.."),
                    "io.evenwarm.monitor.store..",
                    "io.evenwarm.monitor.intake..",
                    "io.evenwarm.link..");

    @ArchTest
    static final ArchRule THE_PAGE_KNOWS_NO_STORE_NO_LINK_AND_NO_WINDOW =
            never(
                    List.of("io.evenwarm.monitor.web.."),
                    "io.evenwarm.monitor.store..",
                    "io.evenwarm.monitor.intake..",
                    "io.evenwarm.monitor.view..",
                    "io.evenwarm.monitor.chart..",
                    "io.evenwarm.link..");

    @ArchTest
    static final ArchRule ONLY_THE_PAGE_KNOWS_THE_WEB_SERVER =
            only(List.of("io.evenwarm.monitor.web.."), "io.javalin..", "org.eclipse.jetty..");

    @ArchTest
    static final ArchRule THE_MODEL_KNOWS_NO_WINDOW =
            never(
                    List.of(
                            "io.evenwarm.monitor.alarm..",
                            "io.evenwarm.monitor.live..",
                            "io.evenwarm.monitor.history..",
                            "io.evenwarm.monitor.intake..",
                            "io.evenwarm.monitor.store.."),
                    "io.evenwarm.monitor.view..",
                    "io.evenwarm.monitor.chart..");

    @ArchTest
    static final ArchRule NOTICES_KNOW_NEITHER_STORE_NOR_ALARM_NOR_WINDOW =
            never(
                    List.of("io.evenwarm.monitor.notice.."),
                    "io.evenwarm.monitor.store..",
                    "io.evenwarm.monitor.intake..",
                    "io.evenwarm.monitor.alarm..",
                    "io.evenwarm.monitor.view..",
                    "io.evenwarm.monitor.chart..");

    /** Trust in servers of others lives with all other certificates. */
    @ArchTest
    static final ArchRule OF_LINKS_NOTICES_KNOW_ONLY_WHOM_TO_TRUST =
            noClasses()
                    .that()
                    .resideInAPackage("io.evenwarm.monitor.notice..")
                    .should()
                    .dependOnClassesThat(
                            JavaClass.Predicates.resideInAPackage("io.evenwarm.link..")
                                    .and(
                                            DescribedPredicate.not(
                                                    JavaClass.Predicates.type(Authority.class))));

    @ArchTest
    static final ArchRule ONLY_THE_CHANNELS_KNOW_MAIL_BROKERS_HTTP_AND_SOUND =
            only(
                    List.of("io.evenwarm.monitor.notice.channel.."),
                    "jakarta.mail..",
                    "org.eclipse.angus..",
                    "org.eclipse.paho..",
                    "java.net.http..",
                    "javax.sound..");

    @ArchTest
    static final ArchRule ONLY_NOTICES_AND_ALERTS_KNOW_THE_JSON_LIBRARY =
            only(
                    List.of("io.evenwarm.monitor.notice..", "io.evenwarm.monitor.alert.."),
                    "com.fasterxml.jackson..");

    @ArchTest
    static final ArchRule THE_MONITOR_NEVER_SEES_THE_AGENTS_CODE =
            noClasses()
                    .should()
                    .dependOnClassesThat()
                    .resideInAnyPackage("io.evenwarm.agent..", "com.pi4j..");

    /** What people are told follows from what is given to it, and from nothing else. */
    @ArchTest
    static final ArchRule THE_ALARM_LOGIC_IS_PURE =
            noClasses()
                    .that()
                    .resideInAPackage("io.evenwarm.monitor.alarm..")
                    .should()
                    .dependOnClassesThat()
                    .resideInAnyPackage(
                            "java.io..",
                            "java.nio..",
                            "java.net..",
                            "java.sql..",
                            "java.util.concurrent..",
                            "java.util.logging..",
                            "javafx..",
                            "io.evenwarm.clock..",
                            "io.evenwarm.link..",
                            "io.evenwarm.monitor.app..",
                            "io.evenwarm.monitor.chart..",
                            "io.evenwarm.monitor.intake..",
                            "io.evenwarm.monitor.live..",
                            "io.evenwarm.monitor.store..",
                            "io.evenwarm.monitor.view..")
                    .orShould()
                    .dependOnClassesThat()
                    .belongToAnyOf(Thread.class, Runnable.class, System.Logger.class, Clock.class);

    /** A survey's figures follow from its readings, and from nothing else. */
    @ArchTest
    static final ArchRule EVENNESS_IS_PURE =
            pure("io.evenwarm.monitor.evenness..", "io.evenwarm.monitor.history..");

    /** A cabinet's model follows from its readings, and from nothing else. */
    @ArchTest
    static final ArchRule THE_THERMAL_MODEL_IS_PURE = pure("io.evenwarm.monitor.thermal..");

    /** What an outage came to follows from history and model, and from nothing else. */
    @ArchTest
    static final ArchRule OUTAGES_ARE_PURE =
            pure(
                    "io.evenwarm.monitor.outage..",
                    "io.evenwarm.monitor.history..",
                    "io.evenwarm.monitor.thermal..");

    /** No I/O, thread, clock or log, and of the monitor only itself and what it may see. */
    private static ArchRule pure(String itself, String... mayBeSeen) {
        return noClasses()
                .that()
                .resideInAPackage(itself)
                .should()
                .dependOnClassesThat(
                        JavaClass.Predicates.resideInAnyPackage(
                                        "java.io..",
                                        "java.nio..",
                                        "java.net..",
                                        "java.sql..",
                                        "java.util.concurrent..",
                                        "java.util.logging..",
                                        "javafx..",
                                        "io.evenwarm.clock..",
                                        "io.evenwarm.link..",
                                        "io.evenwarm.monitor..")
                                .and(
                                        DescribedPredicate.not(
                                                JavaClass.Predicates.resideInAPackage(itself)
                                                        .or(
                                                                JavaClass.Predicates
                                                                        .resideInAnyPackage(
                                                                                mayBeSeen)))))
                .orShould()
                .dependOnClassesThat()
                .belongToAnyOf(Thread.class, Runnable.class, System.Logger.class, Clock.class);
    }

    @ArchTest
    static final ArchRule REPORTS_KNOW_WHAT_IS_KEPT_AND_WHAT_FOLLOWS_FROM_IT =
            noClasses()
                    .that()
                    .resideInAPackage("io.evenwarm.monitor.report..")
                    .should()
                    .dependOnClassesThat(
                            JavaClass.Predicates.resideInAnyPackage(
                                            "java.io..",
                                            "java.nio..",
                                            "java.sql..",
                                            "javafx..",
                                            "io.evenwarm.clock..",
                                            "io.evenwarm.monitor..")
                                    .and(
                                            DescribedPredicate.not(
                                                    JavaClass.Predicates.resideInAnyPackage(
                                                            "io.evenwarm.monitor.report..",
                                                            "io.evenwarm.monitor.alert..",
                                                            "io.evenwarm.monitor.evenness..",
                                                            "io.evenwarm.monitor.history..",
                                                            "io.evenwarm.monitor.notice..",
                                                            "io.evenwarm.monitor.outage..",
                                                            "io.evenwarm.monitor.thermal.."))));

    @ArchTest
    static final ArchRule PACKAGES_HAVE_NO_CYCLES =
            slices().matching("io.evenwarm.monitor.(*)..").should().beFreeOfCycles();
}
