package io.evenwarm.monitor.web;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.clock.SystemClock;
import io.evenwarm.link.Identity;
import io.evenwarm.link.ServingTls;
import io.evenwarm.monitor.view.InventedCabinets;
import io.evenwarm.quantity.TemperatureUnit;
import io.evenwarm.testing.Waiting;
import java.io.File;
import java.io.IOException;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.time.Duration;
import java.time.ZoneId;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Assumptions;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.openqa.selenium.By;
import org.openqa.selenium.OutputType;
import org.openqa.selenium.WebElement;
import org.openqa.selenium.chrome.ChromeDriver;
import org.openqa.selenium.chrome.ChromeDriverService;
import org.openqa.selenium.chrome.ChromeOptions;

/** The page in a real browser, as wide as a phone and as wide as a desk's screen. */
@Timeout(180)
final class PageBrowserIT {

    private static final Path BROWSER = Path.of("/usr/bin/chromium");
    private static final Path DRIVER = Path.of("/usr/bin/chromedriver");
    private static final Path PICTURES =
            Path.of(System.getProperty("page.pictures", "target/page-pictures"));
    private static final int PHONE_WIDTH = 360;
    private static final int PHONE_HEIGHT = 740;

    /** WCAG 2.2, success criterion 1.4.3 (AA): text that is not large. */
    private static final double CONTRAST_LEAST = 4.5;

    /**
     * WCAG 2.2, "relative luminance" and "contrast ratio", of every text against what is behind it.
     */
    private static final String CONTRASTS =
            """
            const luminance = c => c.map(v => v / 255)
                .map(v => v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4)
                .reduce((sum, v, i) => sum + v * [0.2126, 0.7152, 0.0722][i], 0);
            const numbers = text => text.match(/[0-9.]+/g).map(Number);
            const behind = element => {
              for (let e = element; e; e = e.parentElement) {
                const c = numbers(getComputedStyle(e).backgroundColor);
                if (c.length === 3 || c[3] === 1) return c.slice(0, 3);
              }
              return [255, 255, 255];
            };
            const found = {};
            for (const e of document.querySelectorAll("body *")) {
              const own = [...e.childNodes].some(n => n.nodeType === 3 && n.textContent.trim());
              if (!own || !e.checkVisibility()) continue;
              const a = luminance(numbers(getComputedStyle(e).color).slice(0, 3));
              const b = luminance(behind(e));
              const ratio = (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
              found[e.tagName + " " + e.className + ": " + e.textContent.trim().slice(0, 30)] = ratio;
            }
            return found;
            """;

    private final InventedCabinets cabinets =
            new InventedCabinets(
                    SystemClock.wall()::now,
                    Duration.ofDays(2),
                    List.of(InventedCabinets.Story.values()));
    private final InventedAlarms alarms = new InventedAlarms(SystemClock.wall()::now);
    private final PageServer server;
    private final ChromeDriver browser;
    private final PageAccess access;

    PageBrowserIT(@TempDir Path folder) throws IOException {
        Assumptions.assumeTrue(
                Files.isExecutable(BROWSER) && Files.isExecutable(DRIVER),
                "not tested: install the packages chromium and chromium-driver");
        access = new PageAccess(folder.resolve("page"));
        server =
                PageServer.start(
                        new PageServer.Content(
                                cabinets,
                                cabinets.history(),
                                alarms,
                                NoticeAnswers.NONE,
                                access,
                                SystemClock.wall()::now,
                                TemperatureUnit.CELSIUS,
                                ZoneId.of("Europe/Berlin")),
                        new InetSocketAddress(InetAddress.getLoopbackAddress(), 0),
                        ServingTls.of(Identity.create("evenwarm page")));
        ChromeOptions options = new ChromeOptions();
        options.setBinary(BROWSER.toFile());
        options.setAcceptInsecureCerts(true);
        options.addArguments(
                "--headless=new",
                "--no-sandbox",
                "--disable-gpu",
                "--disable-dev-shm-usage",
                "--hide-scrollbars",
                "--user-data-dir=" + folder.resolve("browser"));
        browser =
                new ChromeDriver(
                        new ChromeDriverService.Builder()
                                .usingDriverExecutable(DRIVER.toFile())
                                .usingAnyFreePort()
                                .build(),
                        options);
    }

    @AfterEach
    void end() {
        browser.quit();
        server.close();
    }

    @BeforeEach
    void asOnAPhone() {
        browser.executeCdpCommand(
                "Emulation.setDeviceMetricsOverride",
                Map.of(
                        "width",
                        PHONE_WIDTH,
                        "height",
                        PHONE_HEIGHT,
                        "deviceScaleFactor",
                        2,
                        "mobile",
                        true));
    }

    private void enter(boolean mayAcknowledge) throws IOException {
        String link =
                access.link(
                        new Visitor(mayAcknowledge ? "the keeper" : "a friend", mayAcknowledge),
                        30,
                        SystemClock.wall().now());
        browser.get("https://127.0.0.1:" + server.port() + "/enter/" + link);
        browser.findElement(By.tagName("button")).click();
        Waiting.until(
                20,
                () -> !browser.findElements(By.cssSelector("section.card")).isEmpty(),
                browser::getPageSource);
        Waiting.until(
                20,
                () ->
                        Boolean.TRUE.equals(
                                browser.executeScript(
                                        "return [...document.images].every(i => i.complete &&"
                                                + " i.naturalWidth > 0)")),
                () ->
                        "pictures: "
                                + browser.executeScript(
                                        "return [...document.images].map(i => i.src + ' ' +"
                                                + " i.complete + ' ' + i.naturalWidth)"));
    }

    private double number(String script) {
        return ((Number) Objects.requireNonNull(browser.executeScript("return " + script)))
                .doubleValue();
    }

    private void picture(String name) throws IOException {
        File shot = browser.getScreenshotAs(OutputType.FILE);
        Files.createDirectories(PICTURES);
        Files.copy(shot.toPath(), PICTURES.resolve(name), StandardCopyOption.REPLACE_EXISTING);
    }

    @Test
    void everyCabinetFitsAPhonesWidth() throws IOException {
        enter(true);
        assertEquals(PHONE_WIDTH, number("document.documentElement.scrollWidth"));
        for (InventedCabinets.Story story : InventedCabinets.Story.values()) {
            assertTrue(
                    browser.findElement(By.id("now"))
                            .getText()
                            .contains(story.key().cabinet().value()));
        }
        assertEquals(5, browser.findElements(By.tagName("img")).size());
        assertEquals(
                5,
                browser.findElements(By.xpath("//p[starts-with(., 'If heating stopped')]")).size());
        assertFalse(browser.findElement(By.id("old")).isDisplayed());

        browser.executeCdpCommand(
                "Emulation.setDeviceMetricsOverride",
                Map.of(
                        "width",
                        PHONE_WIDTH,
                        "height",
                        (int) number("document.documentElement.scrollHeight"),
                        "deviceScaleFactor",
                        1,
                        "mobile",
                        true));
        picture("page-phone.png");
        browser.executeCdpCommand(
                "Emulation.setDeviceMetricsOverride",
                Map.of("width", 1400, "height", 1000, "deviceScaleFactor", 1, "mobile", false));
        assertEquals(1400, number("document.documentElement.scrollWidth"));
        picture("page-desk.png");
    }

    @Test
    void everyTextCanBeReadAgainstWhatIsBehindIt() throws IOException {
        enter(true);
        @SuppressWarnings("unchecked")
        Map<String, Number> contrasts = (Map<String, Number>) browser.executeScript(CONTRASTS);
        assertTrue(contrasts.size() > 40, contrasts.size() + " texts");
        contrasts.forEach(
                (what, ratio) ->
                        assertTrue(ratio.doubleValue() >= CONTRAST_LEAST, what + " has " + ratio));
        System.out.printf(
                Locale.ROOT,
                "least contrast of %d texts: %.2f%n",
                contrasts.size(),
                contrasts.values().stream().mapToDouble(Number::doubleValue).min().orElse(0));
    }

    @Test
    void aPressAcknowledgesAndButtonsAreLargeEnoughForAThumb() throws IOException {
        enter(true);
        List<WebElement> buttons = browser.findElements(By.cssSelector(".alarm button"));
        assertEquals(2, buttons.size());
        for (WebElement button : buttons) {
            // WCAG 2.2, success criterion 2.5.5 (AAA): 44 by 44 CSS pixels.
            assertTrue(button.getSize().getHeight() >= 44, button.getSize().toString());
        }
        buttons.get(0).click();
        Waiting.until(
                20,
                () -> browser.findElements(By.cssSelector(".alarm button")).size() == 1,
                browser::getPageSource);
        assertEquals(List.of("42 by the keeper"), alarms.acknowledged);
    }

    @Test
    void whoMayLookOnlyHasNothingToPress() throws IOException {
        enter(false);
        assertEquals(List.of(), browser.findElements(By.cssSelector(".alarm button")));
    }

    @Test
    void thePageSaysByItselfThatItIsOld() throws IOException {
        enter(true);
        server.close();
        WebElement old = browser.findElement(By.id("old"));
        Waiting.until(40, old::isDisplayed, browser::getPageSource);
        assertTrue(old.getText().startsWith("OLD: no answer from the monitor for"), old.getText());
        picture("page-phone-old.png");
    }

    @Test
    void whatChangesAppearsWithoutAReload() throws IOException {
        enter(true);
        String before = browser.findElement(By.id("now")).getText();
        Waiting.until(
                40,
                () -> !browser.findElement(By.id("now")).getText().equals(before),
                () -> before);
        assertEquals(5, browser.findElements(By.tagName("img")).size());
    }

    @Test
    void aColdLoadIsQuick() throws IOException {
        enter(true);
        browser.executeCdpCommand("Network.clearBrowserCache", Map.of());
        browser.navigate().refresh();
        Waiting.until(
                20,
                () -> number("performance.getEntriesByType('navigation')[0].loadEventEnd") > 0,
                browser::getPageSource);
        System.out.printf(
                Locale.ROOT,
                "page of five cabinets: all loaded %.0f ms after the request, %.0f octets over the"
                        + " line%n",
                number("performance.getEntriesByType('navigation')[0].loadEventEnd"),
                number(
                        "performance.getEntriesByType('navigation')[0].transferSize +"
                                + " performance.getEntriesByType('resource').reduce((s, r) => s +"
                                + " r.transferSize, 0)"));
    }
}
