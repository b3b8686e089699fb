package io.evenwarm;

import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.classes;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;
import static com.tngtech.archunit.library.dependencies.SlicesRuleDefinition.slices;
import static io.evenwarm.testing.ModuleRules.never;
import static io.evenwarm.testing.ModuleRules.only;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.tngtech.archunit.core.domain.JavaClasses;
import com.tngtech.archunit.core.importer.ImportOption.DoNotIncludeTests;
import com.tngtech.archunit.junit.AnalyzeClasses;
import com.tngtech.archunit.junit.ArchTest;
import com.tngtech.archunit.junit.ArchTests;
import com.tngtech.archunit.lang.ArchRule;
import io.evenwarm.testing.ModuleRules;
import java.util.List;

/** The package directions of docs/architecture.md, for the vocabulary and the links. */
@AnalyzeClasses(packages = "io.evenwarm", importOptions = DoNotIncludeTests.class)
final class ProtocolArchitectureTest {

    @ArchTest static final ArchTests IN_EVERY_MODULE = ArchTests.in(ModuleRules.class);

    /** An empty scan would pass every rule below. */
    @ArchTest
    static void theScanReallySawTheProtocolsClasses(JavaClasses classes) {
        assertTrue(classes.size() >= 40, "only " + classes.size() + " classes were scanned");
    }

    @ArchTest
    static final ArchRule QUANTITIES_STAND_ALONE =
            classes()
                    .that()
                    .resideInAPackage("io.evenwarm.quantity..")
                    .should()
                    .onlyDependOnClassesThat()
                    .resideInAnyPackage("io.evenwarm.quantity..", "java..", "org.jspecify..");

    @ArchTest
    static final ArchRule MESSAGES_KNOW_ONLY_QUANTITIES =
            classes()
                    .that()
                    .resideInAPackage("io.evenwarm.message..")
                    .should()
                    .onlyDependOnClassesThat()
                    .resideInAnyPackage(
                            "io.evenwarm.message..",
                            "io.evenwarm.quantity..",
                            "java..",
                            "org.jspecify..");

    @ArchTest
    static final ArchRule FRAMES_KNOW_NO_MESSAGES =
            never(
                    List.of("io.evenwarm.frame.."),
                    "io.evenwarm.message..",
                    "io.evenwarm.codec..",
                    "io.evenwarm.link..");

    @ArchTest
    static final ArchRule THE_CODEC_KNOWS_NO_LINK =
            never(List.of("io.evenwarm.codec.."), "io.evenwarm.frame..", "io.evenwarm.link..");

    @ArchTest
    static final ArchRule ONLY_THE_CODEC_KNOWS_JACKSON =
            only(List.of("io.evenwarm.codec.."), "com.fasterxml..");

    @ArchTest
    static final ArchRule ONLY_LINKS_KNOW_SERIAL_PORTS_AND_CERTIFICATES =
            only(List.of("io.evenwarm.link.."), "com.fazecast..", "org.bouncycastle..");

    /** The outside switch's feed is handed a trust that links made. */
    @ArchTest
    static final ArchRule ONLY_LINKS_AND_THE_SWITCHS_FEED_KNOW_TLS =
            only(List.of("io.evenwarm.link..", "io.evenwarm.outside.."), "javax.net.ssl..");

    @ArchTest
    static final ArchRule ONLY_NEARBY_KNOWS_MULTICAST_DNS =
            only(List.of("io.evenwarm.nearby.."), "javax.jmdns..");

    @ArchTest
    static final ArchRule SETTINGS_STAND_ALONE =
            classes()
                    .that()
                    .resideInAPackage("io.evenwarm.settings..")
                    .should()
                    .onlyDependOnClassesThat()
                    .resideInAnyPackage(
                            "io.evenwarm.settings..", "java..", "org.jspecify..", "org.tomlj..");

    @ArchTest
    static final ArchRule ONLY_SETTINGS_KNOW_TOML =
            only(List.of("io.evenwarm.settings.."), "org.tomlj..");

    @ArchTest
    static final ArchRule THE_PROTOCOL_KNOWS_NO_HARDWARE_WINDOW_OR_STORE =
            noClasses()
                    .should()
                    .dependOnClassesThat()
                    .resideInAnyPackage("com.pi4j..", "javafx..", "java.sql..", "org.sqlite..");

    @ArchTest
    static final ArchRule PACKAGES_HAVE_NO_CYCLES =
            slices().matching("io.evenwarm.(*)..").should().beFreeOfCycles();
}
