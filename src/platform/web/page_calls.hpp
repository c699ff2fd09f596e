#pragma once

// The page's side, written in web/bridge.js. Texts are UTF-8 and copied within the call.
extern "C" {
void kp_page_mirror(const char* changes_json);
void kp_page_wake(void);
void kp_page_ready(void);
void kp_page_idle(int idle);
double kp_page_now(void);             // performance.now()
double kp_page_wall(void);            // Date.now()
int kp_page_offset_min(void);         // local time minus UTC, in minutes
int kp_page_was_hidden(void);         // 1 when hidden at any time since the last call
void kp_page_random(unsigned char* bytes, int count);
void kp_page_share(int offer, const char* name, const char* mime, const char* bytes, int size);
// The next offer of which something became, 0 without one; 0 shared, 1 let out, 2 put away.
int kp_page_handed(int* how);
void kp_page_notice(const char* id, const char* text);
// Whether the mirror is the page (1) or lies unseen over the picture (0); ui::ThemeKind; percent.
void kp_page_form(int text, int theme, int percent);
}
